using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;

namespace Indicators.Web.Tests.Invented;

/// <summary>Reads an edition held in memory.</summary>
internal sealed record InventedReader : IEditionReader
{
    public EditionHeader? Header { get; init; }

    /// <summary>Editions before <see cref="Header"/>, latest first; their results are the same lists.</summary>
    public IReadOnlyList<EditionHeader> EarlierHeaders { get; init; } = [];

    /// <summary>What earlier editions hold instead; null when their results are the same lists.</summary>
    public InventedReader? EarlierResults { get; init; }

    private InventedReader Of(long edition) => edition != Header?.Number && EarlierResults is { } earlier ? earlier : this;

    public IReadOnlyList<PublishedSurvey> SurveyList { get; init; } = [];

    public IReadOnlyList<SilenceTally> SilenceTallyList { get; init; } = [];

    public IReadOnlyList<Area> AreaList { get; init; } = [];

    public IReadOnlyList<AreaShape> ShapeList { get; init; } = [];

    public IReadOnlyList<Species> SpeciesList { get; init; } = [];

    public IReadOnlyList<Trend> TrendList { get; init; } = [];

    public IReadOnlyList<SeriesEvidence> EvidenceList { get; init; } = [];

    public IReadOnlyList<IndexPoint> IndexList { get; init; } = [];

    public IReadOnlyList<GroupIndexPoint> GroupList { get; init; } = [];

    public IReadOnlyList<Condition> ConditionList { get; init; } = [];

    public IReadOnlyList<SeasonEffort> EffortList { get; init; } = [];

    public IReadOnlyList<CallingTime> CallingTimeList { get; init; } = [];

    public IReadOnlyList<OccupancyPoint> OccupancyList { get; init; } = [];

    public IReadOnlyList<TrendVariant> VariantList { get; init; } = [];

    public IReadOnlyList<SmoothPoint> SmoothList { get; init; } = [];

    public IReadOnlyList<GroupTrend> GroupTrendList { get; init; } = [];

    public ProgrammePlaces Places { get; init; } = ProgrammePlaces.Empty;
    public IReadOnlyList<CallingChange> CallingChangeList { get; init; } = [];

    public IReadOnlyList<ScoreChange> ScoreChangeList { get; init; } = [];

    public IReadOnlyList<SeasonGap> GapList { get; init; } = [];

    /// <summary>Steps between any two editions.</summary>
    public IReadOnlyList<EditionStep> StepList { get; init; } = [];

    public Exception? Failure { get; init; }

    public IReadOnlyList<EditionStep> Steps(long before, long after) => StepList;

    public long StepsKept() => StepList.Count;

    public EditionHeader? Published() => Failure is null ? Header : throw Failure;

    public EditionHeader? ByNumber(long number) => All().FirstOrDefault(header => header.Number == number);

    public IReadOnlyList<EditionHeader> All() => Header is null ? [] : [Header, .. EarlierHeaders];

    public IReadOnlyList<Area> Areas(long edition) => Of(edition).AreaList;

    public Area? AreaOf(long edition, WatershedCode code) => AreaList.FirstOrDefault(area => area.Code == code);

    public IReadOnlyList<AreaShape> Shapes(long edition) => ShapeList;

    public IReadOnlyList<Species> Species(long edition) => Of(edition).SpeciesList;

    public IReadOnlyList<Trend> Trends(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. Of(edition).TrendList.Where(trend => (area is null || trend.Area == area) && (species is null || trend.Species == species))];

    public IReadOnlyList<TrendVariant> Variants(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. VariantList.Where(each => (area is null || each.Area == area) && (species is null || each.Species == species))];

    public IReadOnlyList<CovariateEffect> Effects(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<SmoothPoint> Smooth(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. SmoothList.Where(each => (area is null || each.Area == area) && (species is null || each.Species == species))];

    public IReadOnlyList<SmoothChange> Changes(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<SeriesEvidence> Evidence(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. EvidenceList.Where(each => (area is null || each.Area == area) && (species is null || each.Species == species))];

    public IReadOnlyList<OccupancyPoint> Occupancy(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. OccupancyList.Where(each => (area is null || each.Area == area) && (species is null || each.Species == species))];

    public IReadOnlyList<OccupancyRates> OccupancyRates(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<DetectionRate> Detection(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<StationSilence> Silences(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<SilenceTally> SilenceTallies(long edition, WatershedCode? area = null) =>
        [.. SilenceTallyList.Where(tally => area is null || tally.Area == area)];

    public IReadOnlyList<CallingTime> CallingTimes(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. CallingTimeList.Where(time => (area is null || time.Area == area) && (species is null || time.Species == species))];

    public IReadOnlyList<GazetteerEntry> Gazetteer(long edition) => Places.Gazetteer;

    public IReadOnlyList<WetlandPlace> Wetlands(long edition, WatershedCode? area = null, string? shortName = null) =>
        [.. Places.Wetlands.Where(place => (area is null || place.Area == area) && (shortName is null || place.Slug == shortName))];

    public IReadOnlyList<WetlandSeason> WetlandSeasons(long edition, Id<Wetland>? wetland = null) =>
        [.. Places.Seasons.Where(season => wetland is null || season.Wetland == wetland)];

    public IReadOnlyList<WetlandCalls> WetlandCalls(long edition, Id<Wetland>? wetland = null) =>
        [.. Places.Calls.Where(calls => wetland is null || calls.Wetland == wetland)];

    public IReadOnlyList<IndexPoint> Indices(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. IndexList.Where(point => (area is null || point.Area == area) && (species is null || point.Species == species))];

    public IReadOnlyList<GroupIndexPoint> Group(long edition, WatershedCode? area = null) =>
        [.. GroupList.Where(point => area is null || point.Area == area)];

    public IReadOnlyList<GroupTrend> GroupTrends(long edition, WatershedCode? area = null) =>
        [.. GroupTrendList.Where(trend => area is null || trend.Area == area)];

    public IReadOnlyList<PooledTrend> Pooled(long edition, Id<Species>? species = null) => [];

    public IReadOnlyList<ShrunkenTrend> Shrunken(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<RollUp> RollUps(long edition, WatershedCode? area = null, Id<Species>? species = null) => [];

    public IReadOnlyList<Condition> Conditions(long edition, WatershedCode? area = null, int? season = null) =>
        [.. Of(edition).ConditionList.Where(condition => (area is null || condition.Area == area) && (season is null || condition.Season == season))];

    public IReadOnlyList<SeasonEffort> Effort(long edition, WatershedCode? area = null) =>
        [.. EffortList.Where(effort => area is null || effort.Area == area)];

    public IReadOnlyList<CallingChange> CallingChanges(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        [.. CallingChangeList.Where(change => (area is null || change.Area == area) && (species is null || change.Species == species))];

    public IReadOnlyList<ScoreChange> ScoreChanges(long edition, WatershedCode? area = null) =>
        [.. ScoreChangeList.Where(change => area is null || change.Area == area)];

    public IReadOnlyList<SeasonGap> Gaps(long edition, WatershedCode? area = null, int? season = null) =>
        [.. GapList.Where(gap => (area is null || gap.Area == area) && (season is null || gap.Season == season))];

    public IEnumerable<PublishedSurvey> Surveys(long edition) => Of(edition).SurveyList;
}
