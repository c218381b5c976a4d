using Indicators.Analysis.Options;
using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Which seasons a trend is fitted to.</summary>
public enum TrendWindow
{
    /// <summary>The whole series.</summary>
    Whole,

    /// <summary>The last ten seasons with effort, fewer when there are fewer.</summary>
    Last10,

    /// <summary>The last five seasons with effort.</summary>
    Last5,

    /// <summary>The seasons the run asked for.</summary>
    Asked,
}

/// <summary>What else a trend is fitted to than the surveys' number.</summary>
public enum TrendModel
{
    /// <summary>Seasons and stations only.</summary>
    Raw,

    /// <summary>Also the covariates of each visit: day, temperature, wind and the rest.</summary>
    Adjusted,
}

/// <summary>
/// The trend of one species in one area over one window, for one response and one model: what <see cref="Trend"/> is for the
/// whole series, the edition's response and the raw model, and more about the total change.
/// </summary>
public sealed record TrendVariant
{
    /// <summary>The seasons, as asked for.</summary>
    public required TrendWindow Window { get; init; }

    /// <summary>What was made of a call level.</summary>
    public required ResponseKind Response { get; init; }

    /// <summary>Raw or adjusted.</summary>
    public required TrendModel Model { get; init; }

    /// <summary>The area, a watershed of any level.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>Whether there is a slope, or why not.</summary>
    public required TrendStatus Status { get; init; }

    /// <summary>First season of the window with effort at a station that heard the species in it, or null.</summary>
    public int? FirstSeason { get; init; }

    /// <summary>Last such season.</summary>
    public int? LastSeason { get; init; }

    /// <summary>Change in percent per season, −100 upward; null when not estimable or infinite.</summary>
    public double? PercentPerSeason { get; init; }

    /// <summary>Lower end of the interval of observed change, percent per season; null without one or when infinite.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? Upper { get; init; }

    /// <summary>Which interval that is, or why there is none.</summary>
    public required IntervalKind Interval { get; init; }

    /// <summary>Lower end of the interval of the underlying direction, percent per season; null without one or when infinite.</summary>
    public double? LowerUnderlying { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? UpperUnderlying { get; init; }

    /// <summary>Estimated standard deviation of the season shocks that all wetlands share, log scale, 0 upward.</summary>
    public double? SeasonSd { get; init; }

    /// <summary>
    /// How alike those shocks of one season and the next were taken to be, 0.1 to 0.8: the estimate and a margin, one for all species of an area. Null without the
    /// interval and in editions made before it was kept.
    /// </summary>
    public double? SeasonCorrelation { get; init; }

    /// <summary>Which way it goes, by the interval of the underlying direction.</summary>
    public Direction Direction { get; init; }

    /// <summary>The fitted change from the first to the last season in percent, 100 (e^{β (last − first)} − 1), −100 upward.</summary>
    public double? TotalChangePercent { get; init; }

    /// <summary>Lower end of the total change, from the underlying draws.</summary>
    public double? TotalLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? TotalUpper { get; init; }

    /// <summary>Share of the underlying draws with a falling slope, 0 to 1.</summary>
    public double? ProbabilityOfDecline { get; init; }

    /// <summary>Share of the underlying draws with a total change below −30 %, a threshold of IUCN criterion A; a probability, not a verdict.</summary>
    public double? ProbabilityBelowMinus30 { get; init; }

    /// <summary>The same below −50 %.</summary>
    public double? ProbabilityBelowMinus50 { get; init; }

    /// <summary>The same below −80 %.</summary>
    public double? ProbabilityBelowMinus80 { get; init; }

    /// <summary>Wetlands with a station that heard the species in the window. Null for a protected species: such counts could tell which stations they are.</summary>
    public int? Clusters { get; init; }

    /// <summary>Stations that did; null with <see cref="Clusters"/>.</summary>
    public int? Stations { get; init; }

    /// <summary>Their eligible surveys in the window.</summary>
    public int? Surveys { get; init; }

    /// <summary>Share of those surveys at full chorus, 0 to 1.</summary>
    public double? CeilingShare { get; init; }
}
