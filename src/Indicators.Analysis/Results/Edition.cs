using Indicators.Analysis.Options;
using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>One area of an edition.</summary>
public sealed record Area
{
    /// <summary>The area's watershed code.</summary>
    public required WatershedCode Code { get; init; }

    /// <summary>What people call it; null when the programme gave no name.</summary>
    public string? Name { get; init; }

    /// <summary>Stations with an accepted survey.</summary>
    public int Stations { get; init; }

    /// <summary>Wetlands with an accepted survey.</summary>
    public int Wetlands { get; init; }

    /// <summary>Accepted surveys.</summary>
    public int Surveys { get; init; }

    /// <summary>First season with an accepted survey.</summary>
    public int FirstSeason { get; init; }

    /// <summary>Last season with an accepted survey.</summary>
    public int LastSeason { get; init; }

    /// <summary>The species expected here, ordered by id. Frozen with the edition.</summary>
    public IReadOnlyList<Id<Species>> Expected { get; init; } = [];

    /// <summary>Whether the expected list came from the programme (true) or from what was heard (false).</summary>
    public bool ExpectedIsGiven { get; init; }
}

/// <summary>How much listening one area had in one season.</summary>
/// <param name="Area">The area.</param>
/// <param name="Season">The calendar year of the surveys.</param>
/// <param name="Stations">Stations surveyed.</param>
/// <param name="Wetlands">Wetlands surveyed.</param>
/// <param name="Surveys">Accepted surveys.</param>
public sealed record SeasonEffort(WatershedCode Area, int Season, int Stations, int Wetlands, int Surveys);

/// <summary>Everything computed for one area: a pure function of its cells, the settings and the seed.</summary>
public sealed record AreaResult
{
    /// <summary>The area itself.</summary>
    public required Area Area { get; init; }

    /// <summary>Listening by season, ordered by season.</summary>
    public required IReadOnlyList<SeasonEffort> Effort { get; init; }

    /// <summary>One trend a species, ordered by species id. Protected species that may not be told here are left out.</summary>
    public required IReadOnlyList<Trend> Trends { get; init; }

    /// <summary>Indices ordered by species, then season.</summary>
    public required IReadOnlyList<IndexPoint> Indices { get; init; }

    /// <summary>The group index of every group of species, ordered by group, then season.</summary>
    public required IReadOnlyList<GroupIndexPoint> Group { get; init; }

    /// <summary>The condition ordered by season.</summary>
    public required IReadOnlyList<Condition> Conditions { get; init; }

    /// <summary>Trends of every window, response and model, ordered by species, response, model, window.</summary>
    public IReadOnlyList<TrendVariant> Variants { get; init; } = [];

    /// <summary>The trend of every group of species, ordered by group.</summary>
    public IReadOnlyList<GroupTrend> GroupTrends { get; init; } = [];

    /// <summary>What the area's slopes bring to pooling, one a species with a finite slope, ordered by species.</summary>
    public IReadOnlyList<SlopeForPooling> PoolingParts { get; init; } = [];
    /// <summary>Effects of the adjusted trends' covariates, ordered by species, then covariate.</summary>
    public IReadOnlyList<CovariateEffect> Effects { get; init; } = [];
    /// <summary>Smooth courses ordered by species, then season.</summary>
    public IReadOnlyList<SmoothPoint> Smooth { get; init; } = [];
    /// <summary>Their fastest changes ordered by species, then kind.</summary>
    public IReadOnlyList<SmoothChange> Changes { get; init; } = [];

    /// <summary>What stands behind each trend, one row a trend in their order.</summary>
    public IReadOnlyList<SeriesEvidence> Evidence { get; init; } = [];

    /// <summary>Occupancy by season, ordered by species, then season; none of species never heard.</summary>
    public IReadOnlyList<OccupancyPoint> Occupancy { get; init; } = [];

    /// <summary>What stays the same in the model of occupancy, one a species, ordered by species.</summary>
    public IReadOnlyList<OccupancyRates> OccupancyRates { get; init; } = [];

    /// <summary>Detection by part of the calling window, ordered by species, then part.</summary>
    public IReadOnlyList<DetectionRate> Detection { get; init; } = [];

    /// <summary>Stations gone quiet and newly heard, of the stations whose smallest watershed this is; ordered by kind, then rank.</summary>
    public IReadOnlyList<StationSilence> Silences { get; init; } = [];

    /// <summary>How many were looked at for <see cref="Silences"/>, one a kind; empty where no station has this as its smallest watershed.</summary>
    public IReadOnlyList<SilenceTally> SilenceTallies { get; init; } = [];

    /// <summary>When species are listened for and were heard, ordered by species. Protected species that may not be told here are left out.</summary>
    public IReadOnlyList<CallingTime> CallingTimes { get; init; } = [];

    /// <summary>Changes of calling up to the last season, ordered by species, then what they are counted from.</summary>
    public IReadOnlyList<CallingChange> CallingChanges { get; init; } = [];

    /// <summary>Changes of the score up to the last season, ordered by what they are counted from.</summary>
    public IReadOnlyList<ScoreChange> ScoreChanges { get; init; } = [];

    /// <summary>What of the listening is missing, ordered by season.</summary>
    public IReadOnlyList<SeasonGap> Gaps { get; init; } = [];

    /// <summary>What of it the results of all areas together rest on; a nation's areas whole would not fit.</summary>
    public AreaResult ForTogether() => new()
    {
        Area = Area,
        Effort = [],
        Trends = Trends,
        Indices = Indices,
        Group = [],
        Conditions = [],
        PoolingParts = PoolingParts,
    };
}

/// <summary>What warnings an edition carries, as typed facts.</summary>
public enum EditionWarningKind
{
    /// <summary>Surveys that fell in no species' calling window.</summary>
    SurveysOutsideEveryWindow,

    /// <summary>Stations without a single accepted survey.</summary>
    StationsNeverSurveyed,

    /// <summary>Series with more than the warning share of surveys at the ceiling.</summary>
    SeriesNearCeiling,

    /// <summary>Series of protected species left out to keep their places back.</summary>
    SeriesKeptBack,

    /// <summary>Watersheds in use without a name.</summary>
    WatershedsWithoutName,
}

/// <summary>One warning and how often it applies.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Count">How many things it concerns, greater than 0.</param>
public sealed record EditionWarning(EditionWarningKind Kind, int Count);

/// <summary>What an edition rests on. Holds no time stamp: the same inputs, settings and seed give the same manifest.</summary>
public sealed record EditionManifest
{
    /// <summary>The version of the edition's own layout.</summary>
    public required int SchemaVersion { get; init; }

    /// <summary>SHA-256 of the accepted surveys and everything they refer to, lower-case hexadecimal.</summary>
    public required string InputsSha256 { get; init; }

    /// <summary>The programme's settings.</summary>
    public required ProgrammeSettings Settings { get; init; }

    /// <summary>The run's choices.</summary>
    public required RunOptions Run { get; init; }

    /// <summary>The version of the engine.</summary>
    public required string EngineVersion { get; init; }

    /// <summary>The runtime that computed it.</summary>
    public required string Runtime { get; init; }

    /// <summary>The processor family that computed it.</summary>
    public required string Processor { get; init; }
}

/// <summary>How much went into an edition.</summary>
/// <param name="Surveys">Accepted surveys used.</param>
/// <param name="Stations">Stations with at least one.</param>
/// <param name="Wetlands">Wetlands with at least one.</param>
/// <param name="Species">Species on the list.</param>
/// <param name="Areas">Areas analysed.</param>
/// <param name="FirstSeason">First calendar year with a survey.</param>
/// <param name="LastSeason">Last calendar year with a survey.</param>
public sealed record EditionCounts(int Surveys, int Stations, int Wetlands, int Species, int Areas, int FirstSeason, int LastSeason);
