using System.Globalization;
using Dapper;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions.Tables;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Indicators.Storage.Editions;

/// <summary>An edition being computed.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Finished">
/// The areas an interrupted run with the same key left finished, ordered by code, as <see cref="AreaResult.ForTogether"/>; empty for a
/// new run.
/// </param>
public sealed record EditionWork(long Number, IReadOnlyList<AreaResult> Finished);

/// <summary>What an edition holds besides the results of its areas.</summary>
/// <param name="Counts">How much went into it.</param>
/// <param name="Warnings">What to know about it.</param>
/// <param name="Species">The species.</param>
/// <param name="Shapes">Shapes of areas.</param>
/// <param name="Together">What only all areas together tell.</param>
public sealed record EditionContent(
    EditionCounts Counts,
    IReadOnlyList<EditionWarning> Warnings,
    IReadOnlyList<Species> Species,
    IReadOnlyList<AreaShape> Shapes,
    ProgrammeResult Together)
{
    /// <summary>Names of places, and what was heard at wetlands.</summary>
    public ProgrammePlaces Places { get; init; } = ProgrammePlaces.Empty;
}

/// <summary>
/// Writes editions: unfinished, kept area by area so that an interrupted run goes on; then draft, at most one; then
/// published, which makes the former one an earlier edition.
/// </summary>
public sealed class EditionStore
{
    private readonly Database _database;

    /// <summary>The store in this database.</summary>
    public EditionStore(Database database) => _database = database;

    /// <summary>
    /// Takes up the unfinished edition with this key, or begins a new one. An unfinished edition with another key is
    /// thrown away: its inputs, settings or seed are no longer those asked for.
    /// </summary>
    /// <param name="runKey">Tells one run from another: the same key, the same results.</param>
    /// <param name="manifest">What the edition rests on.</param>
    /// <param name="surveys">The redacted copy of the surveys, by date, then id; read for a new edition only. It is kept now, so that nobody has to hold it.</param>
    /// <param name="cancel">Stops before the commit; nothing is begun then.</param>
    public EditionWork Begin(string runKey, EditionManifest manifest, IEnumerable<PublishedSurvey> surveys, CancellationToken cancel) => _database.Write(connection =>
    {
        long? number = connection.QueryFirstOrDefault<long?>(
            "SELECT number FROM edition WHERE state = 'unfinished' AND run_key = @runKey",
            new { runKey });
        if (number is { } left)
            return new EditionWork(left, EditionResults.ForTogether(connection, left));
        connection.Execute("DELETE FROM edition WHERE state = 'unfinished'");
        long begun = Insert(connection, runKey, manifest);
        SurveyTables.Write(connection, begun, surveys, cancel);
        return new EditionWork(begun, []);
    });

    private static long Insert(SqliteConnection connection, string runKey, EditionManifest manifest) => connection.QuerySingle<long>(
        """
        INSERT INTO edition (state, run_key, schema_version, inputs_sha256, settings, seed, resamples, through_season, window_from, window_to,
            engine_version, runtime, processor)
        VALUES ('unfinished', @runKey, @SchemaVersion, @InputsSha256, @settings, @seed, @Resamples, @ThroughSeason, @WindowFrom, @WindowTo,
            @EngineVersion, @Runtime, @Processor)
        RETURNING number
        """,
        new
        {
            runKey,
            manifest.SchemaVersion,
            manifest.InputsSha256,
            settings = SettingsText.Write(manifest.Settings),
            seed = manifest.Run.Seed.ToString(CultureInfo.InvariantCulture),
            manifest.Run.Resamples,
            manifest.Run.ThroughSeason,
            manifest.Run.WindowFrom,
            manifest.Run.WindowTo,
            manifest.EngineVersion,
            manifest.Runtime,
            manifest.Processor,
        });

    /// <summary>Keeps finished areas of an unfinished edition.</summary>
    public void Add(long number, IReadOnlyList<AreaResult> results) => _database.Write(connection =>
    {
        RequireUnfinished(connection, number);
        EditionResults.Write(connection, number, results);
    });

    /// <summary>Makes an unfinished edition the draft. A former draft goes, and so does the run's key, which is made of places and names too.</summary>
    /// <param name="number">The edition.</param>
    /// <param name="content">What it holds besides its areas.</param>
    /// <param name="at">When its computation ended.</param>
    /// <param name="cancel">Stops before the commit and leaves the edition unfinished.</param>
    public void Complete(long number, EditionContent content, Instant at, CancellationToken cancel) => _database.Write(connection =>
    {
        RequireUnfinished(connection, number);
        connection.Execute("DELETE FROM edition WHERE state = 'draft'");
        SpeciesTable.Species.Write(connection, number, content.Species);
        AreaTables.Shapes.Write(connection, number, content.Shapes);
        PoolingTables.Pooled.Write(connection, number, content.Together.Pooled);
        PoolingTables.Shrunken.Write(connection, number, content.Together.Shrunken);
        RollUpTable.RollUps.Write(connection, number, content.Together.RollUps);
        PlaceTables.Write(connection, number, content.Places);
        foreach (var warning in content.Warnings)
        {
            connection.Execute(
                "INSERT INTO edition_warning (edition, kind, count) VALUES (@number, @kind, @Count)",
                new { number, kind = ResultCode.Of(warning.Kind), warning.Count });
        }
        connection.Execute(
            """
            UPDATE edition
            SET
                state = 'draft',
                run_key = '',
                created_at = @at,
                surveys = @Surveys,
                stations = @Stations,
                wetlands = @Wetlands,
                species = @Species,
                areas = @Areas,
                first_season = @FirstSeason,
                last_season = @LastSeason
            WHERE number = @number
            """,
            new
            {
                number,
                at = StoredText.Of(at),
                content.Counts.Surveys,
                content.Counts.Stations,
                content.Counts.Wetlands,
                content.Counts.Species,
                content.Counts.Areas,
                content.Counts.FirstSeason,
                content.Counts.LastSeason,
            });
        cancel.ThrowIfCancellationRequested();
    });

    /// <summary>The draft, or null.</summary>
    public EditionHeader? Draft() =>
        _database.Read(connection => EditionRow.Headers(connection, "state = 'draft'")).FirstOrDefault();

    /// <summary>Makes the draft the edition that pages show, and the former one an earlier edition; null when there is no draft.</summary>
    /// <param name="at">When.</param>
    public EditionHeader? Publish(Instant at) => _database.Write(connection =>
    {
        long? draft = connection.QueryFirstOrDefault<long?>("SELECT number FROM edition WHERE state = 'draft'");
        if (draft is null)
            return null;
        connection.Execute("UPDATE edition SET state = 'earlier' WHERE state = 'published'");
        connection.Execute(
            "UPDATE edition SET state = 'published', published_at = @at WHERE number = @draft",
            new { draft, at = StoredText.Of(at) });
        return EditionRow.Headers(connection, "number = @draft", new { draft }).Single();
    });

    /// <summary>Another analysis of the same file may have finished or thrown away this edition meanwhile.</summary>
    private void RequireUnfinished(SqliteConnection connection, long number)
    {
        bool unfinished = connection.ExecuteScalar<bool>(
            "SELECT EXISTS (SELECT 1 FROM edition WHERE number = @number AND state = 'unfinished')",
            new { number });
        if (!unfinished)
            throw new StorageException(new StorageProblem(StorageProblemKind.Locked, _database.Path));
    }
}
