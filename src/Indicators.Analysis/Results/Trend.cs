using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Which way calling goes, as far as the interval carries a word.</summary>
public enum Direction
{
    /// <summary>Can't tell yet.</summary>
    Unclear,

    /// <summary>Going up: the whole interval lies above no change.</summary>
    Up,

    /// <summary>Going down: the whole interval lies below no change.</summary>
    Down,

    /// <summary>Holding steady: the whole interval lies within the practical-change threshold.</summary>
    Steady,
}

/// <summary>Whether a slope could be estimated, or why not.</summary>
public enum TrendStatus
{
    /// <summary>A finite slope was estimated.</summary>
    Estimated,

    /// <summary>The species was never heard on an eligible survey of the area.</summary>
    NeverHeard,

    /// <summary>No station that heard the species was surveyed in two seasons.</summary>
    OneSeason,

    /// <summary>Every station's calls all fall in its first surveyed season: the slope is minus infinity.</summary>
    OnlyInFirstSeasons,

    /// <summary>Every station's calls all fall in its last surveyed season: the slope is plus infinity.</summary>
    OnlyInLastSeasons,

    /// <summary>Adjusted model only: too few wetlands, seasons or visits with calls to fit so many effects.</summary>
    TooLittle,

    /// <summary>Adjusted model only: covariates and season tell the visits with calls from the silent ones at every station, so that effects have no end, or come so near to it that the fit does not settle.</summary>
    Separated,
}

/// <summary>Which interval a result carries, or why it carries none.</summary>
public enum IntervalKind
{
    /// <summary>The stretched cluster-bootstrap interval of observed change, wetlands resampled.</summary>
    ObservedChange,

    /// <summary>The same, stations resampled, because the area is a single wetland.</summary>
    ObservedChangeStations,

    /// <summary>None: there is no estimate.</summary>
    NoEstimate,

    /// <summary>None: too few wetlands (or stations) to resample.</summary>
    FewClusters,

    /// <summary>None: too few seasons.</summary>
    FewSeasons,

    /// <summary>None: too many resamples could not be fitted.</summary>
    LostResamples,
}

/// <summary>The trend of one species in one area over the whole series.</summary>
/// <remarks>
/// Fitted as log E[y] = log n + station effect + β (t − t̄), station effects profiled out, by Poisson pseudo-likelihood:
/// the change in expected calling, stations weighted by how much they call. Percentages are 100 (e^β − 1), unrounded.
/// </remarks>
public sealed record Trend
{
    /// <summary>The area, a watershed of any level.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>Whether there is a slope, or why not.</summary>
    public required TrendStatus Status { get; init; }

    /// <summary>First season with effort at a station that ever heard the species, or null when none did.</summary>
    public int? FirstSeason { get; init; }

    /// <summary>Last such season.</summary>
    public int? LastSeason { get; init; }

    /// <summary>Change in percent per season, −100 upward; null when not estimable or infinite.</summary>
    public double? PercentPerSeason { get; init; }

    /// <summary>Lower end of the interval of observed change over just these seasons, percent per season; null when there is none, or when it has no finite end (−100).</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of the interval in percent per season; null when there is none or it has no finite end.</summary>
    public double? Upper { get; init; }

    /// <summary>Which interval that is, or why there is none.</summary>
    public required IntervalKind Interval { get; init; }

    /// <summary>
    /// Lower end of the interval of the underlying direction, percent per season: which way it goes beneath good and bad
    /// springs that all wetlands share. Null when there is none, or no finite end.
    /// </summary>
    public double? LowerUnderlying { get; init; }

    /// <summary>Upper end of that interval.</summary>
    public double? UpperUnderlying { get; init; }

    /// <summary>Estimated standard deviation of the season shocks that all wetlands share, log scale, 0 upward; null without the interval.</summary>
    public double? SeasonSd { get; init; }

    /// <summary>Which way it goes, by the interval of the underlying direction.</summary>
    public Direction Direction { get; init; }

    /// <summary>Going up or down, but by less than the practical-change threshold over the whole interval.</summary>
    public bool Slowly { get; init; }

    /// <summary>Share of the underlying draws with a falling slope, 0 to 1; null without an interval.</summary>
    public double? ProbabilityOfDecline { get; init; }

    /// <summary>Monte Carlo standard error of the lower end, percent per season.</summary>
    public double? LowerMonteCarloError { get; init; }

    /// <summary>Monte Carlo standard error of the upper end, percent per season.</summary>
    public double? UpperMonteCarloError { get; init; }

    /// <summary>Lower end of the BCa interval (delete-one-wetland acceleration), percent per season, for analysts.</summary>
    public double? BcaLower { get; init; }

    /// <summary>Upper end of the BCa interval.</summary>
    public double? BcaUpper { get; init; }

    /// <summary>Lower end of the jackknife-t interval on K − 1 degrees of freedom, percent per season, for analysts.</summary>
    public double? JackknifeLower { get; init; }

    /// <summary>Upper end of the jackknife-t interval.</summary>
    public double? JackknifeUpper { get; init; }

    /// <summary>
    /// The change in percent per season when every station that heard the species counts alike, however much it calls: how
    /// much hangs on the loud ones. Null when not estimable or infinite.
    /// </summary>
    public double? EqualStationsPercent { get; init; }

    /// <summary>Wetlands with a station that ever heard the species.</summary>
    public int Clusters { get; init; }

    /// <summary>K of the interval: clusters that also have such a station surveyed in two seasons or more.</summary>
    public int InformativeClusters { get; init; }

    /// <summary>Stations that ever heard the species. Null for a protected species: such counts could tell which stations they are.</summary>
    public int? Stations { get; init; }

    /// <summary>Eligible surveys of those stations; null with <see cref="Stations"/>.</summary>
    public int? Surveys { get; init; }

    /// <summary>Stations with eligible surveys that never heard the species and so say nothing about its trend; null with <see cref="Stations"/>.</summary>
    public int? SilentStations { get; init; }

    /// <summary>Share of the surveys of stations that ever heard it at full chorus, where the scale cannot show more, 0 to 1; in whole percent for a protected species.</summary>
    public double? CeilingShare { get; init; }

    /// <summary>Resamples that could be fitted.</summary>
    public int Resamples { get; init; }
}
