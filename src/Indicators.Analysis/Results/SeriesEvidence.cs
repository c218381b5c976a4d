using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>
/// What stands behind the trend of one species in one area over the whole series: how much hangs on one wetland, how calls
/// scatter, who listened and how, and the grade that follows. Raw model, the edition's response.
/// </summary>
/// <remarks>"Its stations" are those that ever heard the species here, the ones the trend rests on.</remarks>
public sealed record SeriesEvidence
{
    /// <summary>The area, a watershed of any level.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The grade.</summary>
    public required Evidence Grade { get; init; }

    /// <summary>Why it is not better; none when well supported.</summary>
    public required EvidenceReason Reasons { get; init; }

    /// <summary>
    /// The change each season without one wetland, less the change with all, in percentage points a season, for the wetland
    /// that moves it furthest (stations where the area is one wetland). Null without an estimate, with fewer than two
    /// wetlands, or when an estimate without one of them is not finite.
    /// </summary>
    public double? LeaveOneOutChange { get; init; }

    /// <summary>That wetland; null for a protected species, and where stations were left out.</summary>
    public Id<Wetland>? LeftOut { get; init; }

    /// <summary>How many of its stations lie there; null for a protected species, for a count can point to a place.</summary>
    public int? LeftOutStations { get; init; }

    /// <summary>
    /// Whether the estimate keeps its sign whichever wetland is left out; false also when one of them leaves no finite
    /// estimate. Null without an estimate.
    /// </summary>
    public bool? SignHolds { get; init; }

    /// <summary>
    /// Pearson's X²/df about the trend, 1 for Poisson counts, 0 upward; null without an estimate or degrees of freedom.
    /// </summary>
    public double? Dispersion { get; init; }

    /// <summary>Its degrees of freedom: cells less one a station less one; null without an estimate, and for a protected species.</summary>
    public int? DispersionDf { get; init; }

    /// <summary>Share of its stations' cells (station and season with effort) without any call, 0 to 1; null when it was never heard, and for a protected species.</summary>
    public double? ZeroCellShare { get; init; }

    /// <summary>Seasons with effort at its stations.</summary>
    public int Seasons { get; init; }

    /// <summary>Those in which only one of its stations listened; null for a protected species.</summary>
    public int? OneStationSeasons { get; init; }

    /// <summary>Share of its stations' surveys at full chorus, 0 to 1; null when it was never heard.</summary>
    public double? CeilingShare { get; init; }

    /// <summary>Different observers written down on eligible surveys of the area; null below <see cref="EvidenceRule.FewestObservers"/>.</summary>
    public int? Observers { get; init; }

    /// <summary>
    /// Share of the eligible surveys of the last three seasons that were made by observers without one in the three seasons
    /// before, 0 to 1. Null with fewer than six seasons, too few observers, or when too few surveys name one.
    /// </summary>
    public double? NewObserverShare { get; init; }

    /// <summary>
    /// Share of the area's eligible surveys that did not keep a limit of the protocol, among those with anything written down
    /// that a limit is about, 0 to 1; null when none has.
    /// </summary>
    public double? OutsideProtocolShare { get; init; }
}
