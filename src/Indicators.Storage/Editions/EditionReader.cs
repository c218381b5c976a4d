using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions.Tables;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions;

/// <summary>
/// Reads the published and earlier editions of one database. Results of drafts and unknown editions are empty; asking
/// for results of a newer layout is a <see cref="StorageException"/> that says so.
/// </summary>
public sealed class EditionReader : IEditionReader
{
    private const string Shown = "state IN ('published', 'earlier')";

    private readonly Database _database;

    /// <summary>The reader of this database.</summary>
    public EditionReader(Database database) => _database = database;

    /// <inheritdoc/>
    public EditionHeader? Published() =>
        _database.Read(connection => EditionRow.Headers(connection, "state = 'published'")).FirstOrDefault();

    /// <inheritdoc/>
    public EditionHeader? ByNumber(long number) =>
        _database.Read(connection => EditionRow.Headers(connection, $"number = @number AND {Shown}", new { number })).FirstOrDefault();

    /// <inheritdoc/>
    public IReadOnlyList<EditionHeader> All() => _database.Read(connection => EditionRow.Headers(connection, Shown));

    /// <inheritdoc/>
    public IReadOnlyList<Area> Areas(long edition) => Results(edition, connection => EditionResults.Areas(connection, edition, null));

    /// <inheritdoc/>
    public Area? AreaOf(long edition, WatershedCode code) =>
        Results(edition, connection => EditionResults.Areas(connection, edition, code.ToString())).FirstOrDefault();

    /// <inheritdoc/>
    public IReadOnlyList<AreaShape> Shapes(long edition) =>
        Results(edition, connection => AreaTables.Shapes.Read(connection, edition));

    /// <inheritdoc/>
    public IReadOnlyList<Species> Species(long edition) =>
        Results(edition, connection => SpeciesTable.Species.Read(connection, edition));

    /// <inheritdoc/>
    public IReadOnlyList<Trend> Trends(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            TrendTable.Trends.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<TrendVariant> Variants(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            TrendVariantTable.Variants.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<CovariateEffect> Effects(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            AdjustedTables.Effects.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<SmoothPoint> Smooth(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            SmoothTables.Points.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<SmoothChange> Changes(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            SmoothTables.Changes.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<SeriesEvidence> Evidence(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            EvidenceTable.Evidence.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<OccupancyPoint> Occupancy(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            OccupancyTables.Points.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<OccupancyRates> OccupancyRates(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            OccupancyTables.Rates.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<DetectionRate> Detection(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            OccupancyTables.Detection.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<StationSilence> Silences(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            SilenceTables.Silences.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<SilenceTally> SilenceTallies(long edition, WatershedCode? area = null) =>
        Results(edition, connection => SilenceTables.Tallies.Read(connection, edition, ("area", area?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<CallingTime> CallingTimes(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            CallingTimeTable.Times.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<GazetteerEntry> Gazetteer(long edition) =>
        Results(edition, connection => PlaceTables.Gazetteer.Read(connection, edition));

    /// <inheritdoc/>
    public IReadOnlyList<WetlandPlace> Wetlands(long edition, WatershedCode? area = null, string? shortName = null) =>
        Results(edition, connection => PlaceTables.Wetlands.Read(connection, edition, ("area", area?.ToString()), ("short", shortName)));

    /// <inheritdoc/>
    public IReadOnlyList<WetlandSeason> WetlandSeasons(long edition, Id<Wetland>? wetland = null) =>
        Results(edition, connection => PlaceTables.Seasons.Read(connection, edition, ("wetland_id", wetland?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<WetlandCalls> WetlandCalls(long edition, Id<Wetland>? wetland = null) =>
        Results(edition, connection => PlaceTables.Calls.Read(connection, edition, ("wetland_id", wetland?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<IndexPoint> Indices(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            IndexTables.Indices.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<GroupIndexPoint> Group(long edition, WatershedCode? area = null) =>
        Results(edition, connection => IndexTables.Group.Read(connection, edition, ("area", area?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<GroupTrend> GroupTrends(long edition, WatershedCode? area = null) =>
        Results(edition, connection => GroupTrendTable.GroupTrends.Read(connection, edition, ("area", area?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<PooledTrend> Pooled(long edition, Id<Species>? species = null) =>
        Results(edition, connection => PoolingTables.Pooled.Read(connection, edition, ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<ShrunkenTrend> Shrunken(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            PoolingTables.Shrunken.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<RollUp> RollUps(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            RollUpTable.RollUps.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<Condition> Conditions(long edition, WatershedCode? area = null, int? season = null) =>
        Results(edition, connection => ConditionTables.Read(connection, edition, area?.ToString(), season));

    /// <inheritdoc/>
    public IReadOnlyList<SeasonEffort> Effort(long edition, WatershedCode? area = null) =>
        Results(edition, connection => AreaTables.Effort.Read(connection, edition, ("area", area?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<CallingChange> CallingChanges(long edition, WatershedCode? area = null, Id<Species>? species = null) =>
        Results(edition, connection =>
            ChangeTables.Calling.Read(connection, edition, ("area", area?.ToString()), ("species_id", species?.ToString())));

    /// <inheritdoc/>
    public IReadOnlyList<ScoreChange> ScoreChanges(long edition, WatershedCode? area = null) =>
        Results(edition, connection => ChangeTables.ReadScores(connection, edition, area?.ToString()));

    /// <inheritdoc/>
    public IReadOnlyList<SeasonGap> Gaps(long edition, WatershedCode? area = null, int? season = null) =>
        Results(edition, connection => ChangeTables.Gaps.Read(connection, edition, ("area", area?.ToString()), ("season", season)));

    /// <inheritdoc/>
    public IEnumerable<PublishedSurvey> Surveys(long edition) =>
        _database.Stream(connection => IsShown(connection, edition) ? SurveyTables.Read(connection, edition) : []);

    /// <inheritdoc/>
    public IReadOnlyList<EditionStep> Steps(long before, long after) =>
        _database.Read(connection => IsShown(connection, before) && IsShown(connection, after) ? StepTables.Read(connection, before, after) : []);

    /// <inheritdoc/>
    public long StepsKept() => _database.Read(StepTables.Latest);

    private List<T> Results<T>(long edition, Func<SqliteConnection, List<T>> read) =>
        _database.Read(connection => IsShown(connection, edition) ? read(connection) : []);

    private bool IsShown(SqliteConnection connection, long edition)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT schema_version FROM edition WHERE number = $edition AND {Shown}";
        command.Parameters.AddWithValue("$edition", edition);
        if (command.ExecuteScalar() is not long version)
            return false;
        return version <= EditionLayout.Version
            ? true
            : throw new StorageException(new StorageProblem(StorageProblemKind.NewerEdition, _database.Path)
            {
                Edition = edition,
                Found = version,
                Supported = EditionLayout.Version,
            });
    }
}
