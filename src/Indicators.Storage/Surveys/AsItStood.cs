using System.Text.Json;
using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Indicators.Storage.Surveys;

/// <summary>
/// What an analysis would have read at an earlier moment: later surveys taken away, replaced ones, stations and expected lists
/// put back from the log. The log does not say when a station, species or expected row was first added, so those stay.
/// </summary>
internal static class AsItStood
{
    internal static ProgrammeData At(SqliteConnection connection, Instant at, ProgrammeData now)
    {
        long last = connection.Query<ImportRow>("SELECT id AS Id, at AS At FROM import_log ORDER BY id")
            .TakeWhile(row => StoredText.Instant(row.At) <= at).LastOrDefault()?.Id ?? 0;
        var old = new { last };
        var later = connection.Query<string>("SELECT survey_id FROM survey WHERE import > @last", old).ToHashSet(StringComparer.Ordinal);
        var surveys = now.Surveys.Where(survey => !later.Contains(survey.Id.ToString()))
            .Concat(connection.Query<LogRow>(
                // A survey may have been replaced more than once since: the first of these holds what stood at the moment.
                """
                SELECT survey_id AS Key, old_content AS Content
                FROM survey_log
                WHERE old_import <= @last AND replaced_by > @last AND old_review = 'accepted'
                """,
                old).Select(row => Survey(row.Key, row.Content)))
            .OrderBy(survey => survey.Id);
        var stations = First("station");
        var expected = First("expected");
        return now with
        {
            Surveys = [.. surveys],
            Stations = [.. now.Stations.Select(station => stations.TryGetValue(station.Id.ToString(), out string? content) ? Station(station, content) : station)],
            Expected = [.. now.Expected.Select(row => expected.TryGetValue($"{row.Watershed} {row.Species}", out string? content) ? row with { Window = Window(content) } : row)],
        };

        Dictionary<string, string> First(string kind) => connection.Query<LogRow>(
            """
            SELECT key AS Key, old_content AS Content, min(id)
            FROM reference_log
            WHERE kind = @kind AND replaced_by > @last
            GROUP BY key
            """,
            new { kind, last }).ToDictionary(row => row.Key, row => row.Content, StringComparer.Ordinal);
    }

    private sealed record ImportRow(long Id, string At);

    private sealed class LogRow
    {
        public string Key { get; init; } = "";

        public string Content { get; init; } = "";
    }

    private static Survey Survey(string id, string content)
    {
        using var document = JsonDocument.Parse(content);
        var old = document.RootElement;
        return new Survey
        {
            Id = StoredText.Id<Survey>(id),
            Station = StoredText.Id<Station>(old.GetProperty("station_id").GetString()!),
            Date = StoredText.Date(old.GetProperty("date").GetString()!),
            StartTime = Text("start_time") is { } start ? StoredText.Time(start) : null,
            Minutes = Number("minutes"),
            Observer = Text("observer"),
            AirTempC = Number("air_temp_c"),
            WindBeaufort = (int?)Number("wind_beaufort"),
            SkyCode = Text("sky_code"),
            Noise = Text("noise"),
            Notes = Text("notes"),
            Calls = [.. old.GetProperty("calls").EnumerateObject()
                .Select(call => new Call(StoredText.Id<Species>(call.Name), CallLevel.Of(call.Value.GetInt32()).Value))
                .OrderBy(call => call.Species)],
        };

        string? Text(string name) => old.GetProperty(name).GetString();

        double? Number(string name) => old.GetProperty(name) is { ValueKind: JsonValueKind.Number } value ? value.GetDouble() : null;
    }

    private static Station Station(Station now, string content)
    {
        using var document = JsonDocument.Parse(content);
        var old = document.RootElement;
        return now with
        {
            Wetland = StoredText.Id<Wetland>(old.GetProperty("wetland_id").GetString()!),
            Watershed = StoredText.Code(old.GetProperty("watershed_code").GetString()!),
            Place = GeoPoint.At(old.GetProperty("latitude").GetDouble(), old.GetProperty("longitude").GetDouble()),
            Weight = old.GetProperty("weight").GetDouble(),
        };
    }

    private static CallingWindow? Window(string content)
    {
        using var document = JsonDocument.Parse(content);
        var old = document.RootElement;
        return old.GetProperty("window_start").GetString() is { } first ? StoredText.Window(first, old.GetProperty("window_end").GetString()!) : null;
    }
}
