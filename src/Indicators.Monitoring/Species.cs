using System.Globalization;

namespace Indicators.Monitoring;

/// <summary>A frog or toad the programme listens for.</summary>
public sealed record Species : IIdentified
{
    static string IIdentified.IdThing => "a species id";

    /// <summary>The species' identifier.</summary>
    public required Id<Species> Id { get; init; }

    /// <summary>The accepted scientific name.</summary>
    public required string ScientificName { get; init; }

    /// <summary>The name people use.</summary>
    public required string CommonName { get; init; }

    /// <summary>What people call it in other languages.</summary>
    public OtherNames OtherNames { get; init; } = OtherNames.None;

    /// <summary>When it calls, unless the list of expected species says otherwise for a watershed.</summary>
    public required CallingWindow Window { get; init; }

    /// <summary>How strictly it depends on undisturbed wetland.</summary>
    public required Conservatism Conservatism { get; init; }

    /// <summary>Whether its places are kept back because telling them could harm it.</summary>
    public bool Protected { get; init; }
}

/// <summary>
/// A coefficient of conservatism: 0 for a species found anywhere, 10 for one found only in wetlands little disturbed.
/// </summary>
/// <remarks>For plants Swink and Wilhelm; for amphibians Micacchion 2004.</remarks>
public readonly record struct Conservatism
{
    private Conservatism(double value) => Value = value;

    /// <summary>The coefficient, 0 to 10.</summary>
    public double Value { get; }

    /// <summary>Reads a coefficient from 0 to 10.</summary>
    public static Parsed<Conservatism> Parse(string text) =>
        double.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value is >= 0 and <= 10
            ? new Conservatism(value)
            : new FieldProblem(text, "a coefficient of conservatism", "a number from 0 to 10");
}

/// <summary>That a species belongs to a watershed's own chorus, and when it calls there.</summary>
/// <param name="Watershed">The watershed, of any level.</param>
/// <param name="Species">The species expected in it.</param>
/// <param name="Window">When it calls there; null for the species' own window.</param>
public sealed record ExpectedSpecies(WatershedCode Watershed, Id<Species> Species, CallingWindow? Window);
