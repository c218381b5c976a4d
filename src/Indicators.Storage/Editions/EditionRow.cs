using System.Globalization;
using Dapper;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions;

/// <summary>An edition's head as its table keeps it.</summary>
internal sealed record EditionRow(
    long Number,
    string State,
    string? CreatedAt,
    string? PublishedAt,
    long SchemaVersion,
    string InputsSha256,
    string Settings,
    string Seed,
    long Resamples,
    long? ThroughSeason,
    long? WindowFrom,
    long? WindowTo,
    string EngineVersion,
    string Runtime,
    string Processor,
    long? Surveys,
    long? Stations,
    long? Wetlands,
    long? Species,
    long? Areas,
    long? FirstSeason,
    long? LastSeason)
{
    private const string Select = """
        SELECT
            number AS Number,
            state AS State,
            created_at AS CreatedAt,
            published_at AS PublishedAt,
            schema_version AS SchemaVersion,
            inputs_sha256 AS InputsSha256,
            settings AS Settings,
            seed AS Seed,
            resamples AS Resamples,
            through_season AS ThroughSeason,
            window_from AS WindowFrom,
            window_to AS WindowTo,
            engine_version AS EngineVersion,
            runtime AS Runtime,
            processor AS Processor,
            surveys AS Surveys,
            stations AS Stations,
            wetlands AS Wetlands,
            species AS Species,
            areas AS Areas,
            first_season AS FirstSeason,
            last_season AS LastSeason
        FROM edition
        """;

    /// <summary>Heads that satisfy a condition, latest first.</summary>
    internal static List<EditionHeader> Headers(SqliteConnection connection, string condition, object? parameters = null) =>
        [.. connection.Query<EditionRow>($"{Select} WHERE {condition} ORDER BY number DESC", parameters)
            .AsList()
            .Select(row => row.ToHeader(connection))];

    private sealed record WarningRow(string Kind, long Count);

    private EditionHeader ToHeader(SqliteConnection connection)
    {
        var warnings = connection.Query<WarningRow>(
            "SELECT kind AS Kind, count AS Count FROM edition_warning WHERE edition = @Number ORDER BY kind",
            new { Number });
        return new EditionHeader(
            Number,
            ResultCode.Read<EditionState>(State),
            StoredText.Instant(CreatedAt!),
            PublishedAt is null ? null : StoredText.Instant(PublishedAt),
            new EditionManifest
            {
                SchemaVersion = (int)SchemaVersion,
                InputsSha256 = InputsSha256,
                Settings = SettingsText.Read(Settings),
                Run = new RunOptions
                {
                    Seed = ulong.Parse(Seed, CultureInfo.InvariantCulture),
                    Resamples = (int)Resamples,
                    ThroughSeason = (int?)ThroughSeason,
                    WindowFrom = (int?)WindowFrom,
                    WindowTo = (int?)WindowTo,
                },
                EngineVersion = EngineVersion,
                Runtime = Runtime,
                Processor = Processor,
            },
            new EditionCounts((int)Surveys!, (int)Stations!, (int)Wetlands!, (int)Species!, (int)Areas!, (int)FirstSeason!, (int)LastSeason!),
            [.. warnings
                .Select(row => new EditionWarning(ResultCode.Read<EditionWarningKind>(row.Kind), (int)row.Count))
                .OrderBy(warning => warning.Kind)]);
    }
}
