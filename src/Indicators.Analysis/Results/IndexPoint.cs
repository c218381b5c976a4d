using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Whether a season has an index, or why not.</summary>
public enum IndexStatus
{
    /// <summary>A finite index, zero included.</summary>
    Estimated,

    /// <summary>The baseline seasons were silent, unsurveyed, or cannot be compared with each other.</summary>
    SilentBaseline,

    /// <summary>No station links this season to the baseline.</summary>
    NotLinked,
}

/// <summary>One species' abundance index in one area and season: expected calling relative to the baseline seasons, 100.</summary>
/// <remarks>I_t = 100 e^γ_t / mean of e^γ over the baseline seasons, from the annual model.</remarks>
public sealed record IndexPoint
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The season: the calendar year in which the calling window opened.</summary>
    public required int Season { get; init; }

    /// <summary>Whether there is an index, or why not.</summary>
    public required IndexStatus Status { get; init; }

    /// <summary>The index, 0 upward, baseline 100; null when there is none.</summary>
    public double? Index { get; init; }

    /// <summary>Lower end of its interval; null when there is none.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end; null when there is none. Of a silent season, what its silence leaves open (rule of three).</summary>
    public double? Upper { get; init; }

    /// <summary>Whether the season belongs to the series' baseline.</summary>
    public bool InBaseline { get; init; }

    /// <summary>Mean call level per eligible survey in that season at stations that ever heard the species, 0 to 3: the raw dot. Null for a protected species: such counts could tell which stations they are.</summary>
    public double? MeanCallLevel { get; init; }

    /// <summary>Stations surveyed that season, of those that ever heard the species; null with <see cref="MeanCallLevel"/>.</summary>
    public int? Stations { get; init; }

    /// <summary>Their eligible surveys that season; null with <see cref="MeanCallLevel"/>.</summary>
    public int? Surveys { get; init; }
}

/// <summary>The indices of a group of species in one area put together, one season.</summary>
/// <remarks>
/// Additive least squares ln I_kt = a_k + g_t over the species and seasons present; the geometric mean of the species'
/// indices when none is missing (Buckland et al. 2005, 2011).
/// </remarks>
public sealed record GroupIndexPoint
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The season.</summary>
    public required int Season { get; init; }

    /// <summary>The group index, baseline 100; null when no species has an index that season.</summary>
    public double? Index { get; init; }

    /// <summary>Lower end of its interval, or null.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end, or null.</summary>
    public double? Upper { get; init; }

    /// <summary>How many species it rests on that season.</summary>
    public int Species { get; init; }

    /// <summary>Which species are put together.</summary>
    public SpeciesGroup Group { get; init; }
}
