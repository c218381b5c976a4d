using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Storage.Editions;

/// <summary>Where an edition stands.</summary>
public enum EditionState
{
    /// <summary>Being computed; finished areas are kept so that the work can go on after a stop.</summary>
    Unfinished,

    /// <summary>Computed, shown to nobody yet.</summary>
    Draft,

    /// <summary>The one that pages show.</summary>
    Published,

    /// <summary>Shown once, replaced by a later one, still readable by its number.</summary>
    Earlier,
}

/// <summary>An edition's head.</summary>
/// <param name="Number">Its number, from 1, never reused.</param>
/// <param name="State">Where it stands.</param>
/// <param name="CreatedAt">When its computation ended. Not part of any hash.</param>
/// <param name="PublishedAt">When it was published, or null.</param>
/// <param name="Manifest">What it rests on.</param>
/// <param name="Counts">How much went into it.</param>
/// <param name="Warnings">What to know about it.</param>
public sealed record EditionHeader(
    long Number,
    EditionState State,
    Instant CreatedAt,
    Instant? PublishedAt,
    EditionManifest Manifest,
    EditionCounts Counts,
    IReadOnlyList<EditionWarning> Warnings);

/// <summary>
/// Reads editions, and nothing but editions: what public pages, interfaces and exports may know.
/// Every list is empty, never null, when there is nothing; orders are those of the result types.
/// </summary>
public interface IEditionReader
{
    /// <summary>The published edition, or null when nothing has been published yet.</summary>
    EditionHeader? Published();

    /// <summary>The edition with this number, published now or earlier; null for drafts and unknown numbers.</summary>
    EditionHeader? ByNumber(long number);

    /// <summary>All published and earlier editions, latest first.</summary>
    IReadOnlyList<EditionHeader> All();

    /// <summary>All areas, ordered by code.</summary>
    IReadOnlyList<Area> Areas(long edition);

    /// <summary>One area, or null.</summary>
    Area? AreaOf(long edition, WatershedCode code);

    /// <summary>Shapes of areas, ordered by code; areas without a shape are left out.</summary>
    IReadOnlyList<AreaShape> Shapes(long edition);

    /// <summary>The edition's species, ordered by id.</summary>
    IReadOnlyList<Species> Species(long edition);

    /// <summary>Trends, of one area or one species or both, ordered by area, then species.</summary>
    IReadOnlyList<Trend> Trends(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Trends of every window, response and model, of one area or one species or both, ordered by area, species, response, model, window.</summary>
    IReadOnlyList<TrendVariant> Variants(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Effects of the adjusted trends' covariates, ordered by area, species, covariate.</summary>
    IReadOnlyList<CovariateEffect> Effects(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Smooth courses, ordered by area, species, season.</summary>
    IReadOnlyList<SmoothPoint> Smooth(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Their fastest changes, ordered by area, species, kind.</summary>
    IReadOnlyList<SmoothChange> Changes(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>How well trends are supported, of one area or one species or both, ordered by area, then species; empty in editions made before it was computed.</summary>
    IReadOnlyList<SeriesEvidence> Evidence(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Occupancy by season, of one area or one species or both, ordered by area, species, season.</summary>
    IReadOnlyList<OccupancyPoint> Occupancy(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Occupancy's rates, of one area or one species or both, ordered by area, species.</summary>
    IReadOnlyList<OccupancyRates> OccupancyRates(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Detection by part of the calling window, of one area or one species or both, ordered by area, species, part.</summary>
    IReadOnlyList<DetectionRate> Detection(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Stations gone quiet and newly heard, ordered by their smallest watershed, kind, rank.</summary>
    IReadOnlyList<StationSilence> Silences(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>How many were looked at for the silences, ordered by watershed, kind.</summary>
    IReadOnlyList<SilenceTally> SilenceTallies(long edition, WatershedCode? area = null);

    /// <summary>When species are listened for and were heard, of one area or one species or both, ordered by area, species.</summary>
    IReadOnlyList<CallingTime> CallingTimes(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Names of the programme's places, ordered by name, kind, area, wetland.</summary>
    IReadOnlyList<GazetteerEntry> Gazetteer(long edition);

    /// <summary>Wetlands that were listened to, of one smallest watershed or all, or the one with this short name, ordered by short name.</summary>
    IReadOnlyList<WetlandPlace> Wetlands(long edition, WatershedCode? area = null, string? shortName = null);

    /// <summary>Listening at wetlands, of one or all, ordered by wetland, season.</summary>
    IReadOnlyList<WetlandSeason> WetlandSeasons(long edition, Id<Wetland>? wetland = null);

    /// <summary>What was heard at wetlands, of one or all, ordered by wetland, species, season.</summary>
    IReadOnlyList<WetlandCalls> WetlandCalls(long edition, Id<Wetland>? wetland = null);

    /// <summary>Indices, of one area or one species or both, ordered by area, species, season.</summary>
    IReadOnlyList<IndexPoint> Indices(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Group indices of every group of species, ordered by area, group, season.</summary>
    IReadOnlyList<GroupIndexPoint> Group(long edition, WatershedCode? area = null);

    /// <summary>Trends of groups of species, ordered by area, group.</summary>
    IReadOnlyList<GroupTrend> GroupTrends(long edition, WatershedCode? area = null);

    /// <summary>Slopes pooled over areas, of one species or all, ordered by parent (the whole programme first), level, species, method.</summary>
    IReadOnlyList<PooledTrend> Pooled(long edition, Id<Species>? species = null);

    /// <summary>Shrunken slopes, of one area or one species or both, ordered by parent (the whole programme first), area, species.</summary>
    IReadOnlyList<ShrunkenTrend> Shrunken(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Indices of larger areas fitted directly and rolled up, of one area or one species or both, ordered by area, species, season.</summary>
    IReadOnlyList<RollUp> RollUps(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Conditions with their lines, ordered by area, season.</summary>
    IReadOnlyList<Condition> Conditions(long edition, WatershedCode? area = null, int? season = null);

    /// <summary>Effort by season, ordered by area, season.</summary>
    IReadOnlyList<SeasonEffort> Effort(long edition, WatershedCode? area = null);

    /// <summary>Changes of calling up to each area's last season, of one area or one species or both, ordered by area, species, what they are counted from.</summary>
    IReadOnlyList<CallingChange> CallingChanges(long edition, WatershedCode? area = null, Id<Species>? species = null);

    /// <summary>Changes of the score up to each area's last season with their lines, ordered by area, what they are counted from.</summary>
    IReadOnlyList<ScoreChange> ScoreChanges(long edition, WatershedCode? area = null);

    /// <summary>What of the listening is missing, of one area or one season or both, ordered by area, season.</summary>
    IReadOnlyList<SeasonGap> Gaps(long edition, WatershedCode? area = null, int? season = null);

    /// <summary>The edition's own redacted copy of the accepted surveys, ordered by date, then id.</summary>
    IEnumerable<PublishedSurvey> Surveys(long edition);

    /// <summary>The steps from an edition to a later one, in order; empty when they were never worked out.</summary>
    IReadOnlyList<EditionStep> Steps(long before, long after);

    /// <summary>Grows whenever steps of any two editions are kept; 0 while there are none.</summary>
    long StepsKept();
}
