using Dapper;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Indicators.Storage.Surveys;

/// <summary>The survey tables of one database. Failures under way are <see cref="StorageException"/>s and keep nothing.</summary>
public sealed class SurveyStore : ISurveyStore
{
    private readonly Database _database;

    /// <summary>The store in this database.</summary>
    public SurveyStore(Database database) => _database = database;

    /// <inheritdoc/>
    public StoredReference Reference() => _database.Read(ReferenceRows.All);

    /// <inheritdoc/>
    public ProgrammeSettings? Settings() => _database.Read(connection =>
        connection.QueryFirstOrDefault<string>("SELECT settings FROM programme_settings ORDER BY id DESC LIMIT 1")) is { } text
            ? SettingsText.Read(text)
            : null;

    /// <summary>How large the programme is that is stored.</summary>
    public StoredSize Size() => _database.Read(connection => connection.QuerySingle<StoredSize>(
        """
        SELECT (SELECT count(*) FROM survey) AS Surveys,
               (SELECT count(*) FROM species) AS Species,
               (SELECT count(*) FROM wetland) AS Wetlands,
               (SELECT coalesce(substr(max(date), 1, 4) - substr(min(date), 1, 4) + 1, 0) FROM survey) AS Seasons
        """));

    /// <inheritdoc/>
    public IReadOnlyDictionary<Id<Survey>, Survey> Find(IReadOnlyCollection<Id<Survey>> ids) =>
        _database.Read(connection => SurveyRows.WithIds(connection, ids));

    /// <inheritdoc/>
    public void Import(ImportBatch batch, Origin origin, IProgress<int>? progress, CancellationToken cancel)
    {
        if (!batch.IsEmpty)
            _database.Write(connection => ImportWriter.Write(connection, batch, origin, progress, cancel));
    }

    /// <inheritdoc/>
    public ProgrammeData Accepted() => _database.Read(All);

    /// <inheritdoc/>
    public ProgrammeData AcceptedAt(Instant at) => _database.Read(connection => AsItStood.At(connection, at, All(connection)));

    private static ProgrammeData All(SqliteConnection connection)
    {
        var reference = ReferenceRows.All(connection);
        return new ProgrammeData(
            reference.Watersheds,
            reference.Wetlands,
            reference.Stations,
            reference.Species,
            reference.Expected,
            SurveyRows.Accepted(connection));
    }
}
