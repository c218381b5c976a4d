using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Options;

/// <summary>
/// What a programme decides for itself, read from <c>programme.json</c>, stored with its database and hashed into every
/// edition. Everything has a default.
/// </summary>
public sealed record ProgrammeSettings
{
    /// <summary>What the programme is called on its pages.</summary>
    public string Name { get; init; } = "Our listening programme";

    /// <summary>The IANA time zone that survey times are local to.</summary>
    public string TimeZone { get; init; } = "America/Chicago";

    /// <summary>The limits that surveys are checked against.</summary>
    public Protocol Protocol { get; init; } = Protocol.Default;

    /// <summary>What indices, trends and scores are made of.</summary>
    public ResponseOptions Response { get; init; } = new();

    /// <summary>Which seasons the index is relative to.</summary>
    public BaselineOptions Baseline { get; init; } = new();

    /// <summary>How trends are fitted and worded.</summary>
    public TrendOptions Trend { get; init; } = new();

    /// <summary>How species are put together into one index.</summary>
    public GroupOptions Group { get; init; } = new();

    /// <summary>How the condition score is made.</summary>
    public ScoreOptions Score { get; init; } = new();

    /// <summary>How occupancy is fitted and what is made of silence.</summary>
    public OccupancyOptions Occupancy { get; init; } = new();

    /// <summary>What is kept back about protected species.</summary>
    public DisclosureOptions Disclosure { get; init; } = new();
}

/// <summary>The choices of one analysis run. They are recorded in the edition.</summary>
public sealed record RunOptions
{
    /// <summary>The seed that keys every random draw. Default 1.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>How many bootstrap resamples. Default 2,000.</summary>
    public int Resamples { get; init; } = 2000;

    /// <summary>The last season to use, or null for all.</summary>
    public int? ThroughSeason { get; init; }

    /// <summary>The first season of one more window that trends are asked for, or null for the series' first.</summary>
    public int? WindowFrom { get; init; }

    /// <summary>The last season of that window, or null for the series' last. With neither there is no such window.</summary>
    public int? WindowTo { get; init; }
}

/// <summary>The seasons that every index is relative to.</summary>
public sealed record BaselineOptions
{
    /// <summary>How many of a series' first seasons with effort make its baseline, at least 1. Default 3 (ours).</summary>
    public int FirstSeasons { get; init; } = 3;

    /// <summary>Named seasons instead, or null for the first ones.</summary>
    public IReadOnlyList<int>? Seasons { get; init; }
}

/// <summary>How trends are fitted and worded.</summary>
public sealed record TrendOptions
{
    /// <summary>The practical-change threshold τ in percent per season: less change than this is small. Default 2 (ours).</summary>
    public double PracticalChangePercent { get; init; } = 2;

    /// <summary>The confidence of every interval, 0 to 1. Default 0.95.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>Fewer resampled clusters than this: no interval. Default 5, from the pilot simulations.</summary>
    public int MinimumClusters { get; init; } = 5;

    /// <summary>Fewer seasons with effort than this: no interval. Default 5.</summary>
    public int MinimumSeasons { get; init; } = 5;

    /// <summary>An interval is withheld when more than this share of the resamples could not be fitted. Default 0.05.</summary>
    public double MaximumLostShare { get; init; } = 0.05;

    /// <summary>From this share of surveys at the full-chorus ceiling on, a warning. Default 0.10.</summary>
    public double CeilingWarningShare { get; init; } = 0.10;

    /// <summary>Above this share of surveys at the ceiling, nothing is called steady. Default 0.50.</summary>
    public double CeilingMuteShare { get; init; } = 0.50;
}

/// <summary>How species are put together into one index.</summary>
public sealed record GroupOptions
{
    /// <summary>Indices below this many percent of baseline count as this inside the group index. Default 1 (ours).</summary>
    public double FloorPercent { get; init; } = 1;

    /// <summary>
    /// No score where the resamples of the expected species' group index lie further beside the estimate than this, in their own standard deviations, 0 or
    /// more. Default 0.65 (ours, docs/coverage.md); Efron and Tibshirani (1993, section 10.3) take less than 0.25 for harmless in a plain interval.
    /// </summary>
    public double MaximumBiasShare { get; init; } = 0.65;

    /// <summary>
    /// A species whose calling window has its middle day from October to this day calls early. Default 31 May (ours).
    /// </summary>
    public AnnualDate EarlyMiddleThrough { get; init; } = new(5, 31);

    /// <summary>A species whose window has its middle day from this day on calls in summer. Default 1 June (ours).</summary>
    public AnnualDate SummerMiddleFrom { get; init; } = new(6, 1);

    /// <summary>From this coefficient of conservatism on a species counts as particular about its wetland, 0 to 10. Default 7 (ours).</summary>
    public double HighConservatismFrom { get; init; } = 7;
}

/// <summary>How the condition score is made. Weights, limits and window are ours; a programme calibrates its own.</summary>
public sealed record ScoreOptions
{
    /// <summary>The weight of the presence part. Default 0.30. The four weights add up to 1.</summary>
    public double PresenceWeight { get; init; } = 0.30;

    /// <summary>The weight of the sensitivity part. Default 0.20.</summary>
    public double SensitivityWeight { get; init; } = 0.20;

    /// <summary>The weight of the calling part. Default 0.30.</summary>
    public double CallingWeight { get; init; } = 0.30;

    /// <summary>The weight of the direction part. Default 0.20.</summary>
    public double DirectionWeight { get; init; } = 0.20;

    /// <summary>Scores from here up are good. Default 75.</summary>
    public double GoodFrom { get; init; } = 75;

    /// <summary>Scores from here up to good are fair, below poor. Default 50.</summary>
    public double FairFrom { get; init; } = 50;

    /// <summary>How many seasons the moving window spans, the scored season being its last. Default 3.</summary>
    public int WindowSeasons { get; init; } = 3;

    /// <summary>Fewer seasons with effort in the window than this: no score. Default 2.</summary>
    public int MinimumSeasons { get; init; } = 2;

    /// <summary>Fewer surveyed wetlands in the window than this: no score. Default 5.</summary>
    public int MinimumWetlands { get; init; } = 5;

    /// <summary>Fewer expected species than this: no score. Default 3.</summary>
    public int MinimumExpectedSpecies { get; init; } = 3;

    /// <summary>
    /// Seasons in which a species must be heard within the enclosing 8-digit watershed to be expected there,
    /// when the programme keeps no list. Default 2.
    /// </summary>
    public int SeasonsHeardToExpect { get; init; } = 2;
}

/// <summary>What is kept back about protected species.</summary>
public sealed record DisclosureOptions
{
    /// <summary>
    /// A protected species' results are published only for areas with at least so many surveyed wetlands, and never
    /// where subtracting published areas isolates fewer. Default 5.
    /// </summary>
    public int MinimumWetlands { get; init; } = 5;
}
