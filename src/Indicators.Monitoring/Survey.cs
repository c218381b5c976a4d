using NodaTime;

namespace Indicators.Monitoring;

/// <summary>What review said of a survey. Only accepted surveys are analysed.</summary>
public enum ReviewStatus
{
    /// <summary>It counts.</summary>
    Accepted,

    /// <summary>Somebody must look at it first.</summary>
    Held,

    /// <summary>It does not count, and stays on record with the reason.</summary>
    Refused,
}

/// <summary>
/// One timed listen at one station, with everything heard. A survey without calls is a silent night, which is data.
/// </summary>
public sealed record Survey : IIdentified
{
    static string IIdentified.IdThing => "a survey id";

    /// <summary>The survey's identifier.</summary>
    public required Id<Survey> Id { get; init; }

    /// <summary>Where people listened.</summary>
    public required Id<Station> Station { get; init; }

    /// <summary>The evening the night began; a survey after midnight carries the evening before.</summary>
    public required LocalDate Date { get; init; }

    /// <summary>When listening began, local time, or null when nobody wrote it down.</summary>
    public LocalTime? StartTime { get; init; }

    /// <summary>Minutes of listening, greater than 0, or null.</summary>
    public double? Minutes { get; init; }

    /// <summary>Who listened, as written. Never leaves the survey tables.</summary>
    public string? Observer { get; init; }

    /// <summary>Air temperature in degrees Celsius, −60 to 60, or null.</summary>
    public double? AirTempC { get; init; }

    /// <summary>Wind force on the Beaufort scale, 0 to 12, or null.</summary>
    public int? WindBeaufort { get; init; }

    /// <summary>The protocol's sky code, as written, or null.</summary>
    public string? SkyCode { get; init; }

    /// <summary>Noise on the protocol's own scale, as written, or null.</summary>
    public string? Noise { get; init; }

    /// <summary>What else was written. Never leaves the survey tables.</summary>
    public string? Notes { get; init; }

    /// <summary>What was heard, each species at most once, ordered by species.</summary>
    public required IReadOnlyList<Call> Calls { get; init; }
}

/// <summary>One species' call level on one survey.</summary>
/// <param name="Species">Which species.</param>
/// <param name="Level">How much of it was heard; 0 is a written-down silence.</param>
public readonly record struct Call(Id<Species> Species, CallLevel Level);

/// <summary>How much listening lies behind a figure: eligible surveys, each counting 1 whatever its minutes.</summary>
/// <remarks>Listening longer than three minutes adds little: Shirose et al. 1997 found no gain from 3 to 5 minutes.</remarks>
public readonly record struct Effort
{
    private Effort(int surveys) => Surveys = surveys;

    /// <summary>The number of eligible surveys, 0 or more.</summary>
    public int Surveys { get; }

    /// <summary>So many surveys.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is negative.</exception>
    public static Effort Of(int surveys)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(surveys);
        return new Effort(surveys);
    }
}
