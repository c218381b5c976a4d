using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Surveys;

/// <summary>Writes one import inside the transaction it is given.</summary>
internal static class ImportWriter
{
    /// <summary>After so many surveys the caller hears of it, and may have asked to stop.</summary>
    private const int ReportEvery = 500;

    internal static void Write(SqliteConnection connection, ImportBatch batch, Origin origin, IProgress<int>? progress, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        var stored = SurveyKeys(connection);
        int replaced = stored.Count == 0 ? 0 : batch.Surveys.Count(entry => stored.ContainsKey(entry.Survey.Id.ToString()));
        long import = connection.QuerySingle<long>(
            """
            INSERT INTO import_log (who, at, folder, reference_rows, surveys_new, surveys_replaced)
            VALUES (@Who, @At, @Folder, @ReferenceRows, @SurveysNew, @SurveysReplaced)
            RETURNING id
            """,
            new
            {
                origin.Who,
                At = StoredText.Of(origin.When),
                origin.Folder,
                ReferenceRows = batch.Watersheds.Count + batch.Shapes.Count + batch.Wetlands.Count + batch.Stations.Count
                    + batch.Species.Count + batch.Expected.Count,
                SurveysNew = batch.Surveys.Count - replaced,
                SurveysReplaced = replaced,
            });
        if (batch.Settings is { } settings)
        {
            connection.Execute(
                "INSERT INTO programme_settings (import, settings) VALUES (@import, @settings)",
                new { import, settings = SettingsText.Write(settings) });
        }

        ReferenceWriter.Write(connection, batch, import);
        WriteSurveys(connection, batch.Surveys, import, stored, progress, cancel);
        cancel.ThrowIfCancellationRequested();
    }

    private static void WriteSurveys(
        SqliteConnection connection,
        IReadOnlyList<SurveyEntry> entries,
        long import,
        Dictionary<string, long> stored,
        IProgress<int>? progress,
        CancellationToken cancel)
    {
        if (entries.Count == 0)
            return;
        var stations = Keys(connection, "SELECT station_id AS Text, id AS Key FROM station");
        var species = Keys(connection, "SELECT species_id AS Text, id AS Key FROM species");
        long next = stored.Count == 0 ? 1 : stored.Values.Max() + 1;
        using var insert = new BulkCommand(
            connection,
            """
            INSERT INTO survey (id, survey_id, station, date, start_time, minutes, observer, air_temp_c, wind_beaufort,
                sky_code, noise, notes, review, import, file, line)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)
            ON CONFLICT (id) DO UPDATE SET
                station = excluded.station,
                date = excluded.date,
                start_time = excluded.start_time,
                minutes = excluded.minutes,
                observer = excluded.observer,
                air_temp_c = excluded.air_temp_c,
                wind_beaufort = excluded.wind_beaufort,
                sky_code = excluded.sky_code,
                noise = excluded.noise,
                notes = excluded.notes,
                review = excluded.review,
                import = excluded.import,
                file = excluded.file,
                line = excluded.line
            """);
        using var call = new BulkCommand(connection, "INSERT INTO call (survey, species, level) VALUES (?1, ?2, ?3)");
        for (int done = 0; done < entries.Count; done++)
        {
            if (done % ReportEvery == 0)
            {
                cancel.ThrowIfCancellationRequested();
                progress?.Report(done);
            }
            var entry = entries[done];
            var survey = entry.Survey;
            string name = survey.Id.ToString();
            if (stored.TryGetValue(name, out long key))
                SetAside(connection, key, import);
            else
                key = next++;
            insert
                .Whole(1, key)
                .Text(2, name)
                .Whole(3, stations[survey.Station.ToString()])
                .Text(4, StoredText.Of(survey.Date))
                .Text(5, survey.StartTime is { } start ? StoredText.Of(start) : null)
                .Real(6, survey.Minutes)
                .Text(7, survey.Observer)
                .Real(8, survey.AirTempC)
                .Whole(9, survey.WindBeaufort)
                .Text(10, survey.SkyCode)
                .Text(11, survey.Noise)
                .Text(12, survey.Notes)
                .Text(13, Review(entry.Review))
                .Whole(14, import)
                .Text(15, entry.File)
                .Whole(16, entry.Line)
                .Run();
            foreach (var heard in survey.Calls)
                call.Whole(1, key).Whole(2, species[heard.Species.ToString()]).Whole(3, heard.Level.Value).Run();
        }
        progress?.Report(entries.Count);
    }

    /// <summary>Writes the old content of a survey to the log and takes its calls away; the row itself is then written over.</summary>
    private static void SetAside(SqliteConnection connection, long survey, long import)
    {
        connection.Execute(
            """
            INSERT INTO survey_log (survey_id, replaced_by, old_import, old_file, old_line, old_review, old_content)
            SELECT
                survey.survey_id,
                @import,
                survey.import,
                survey.file,
                survey.line,
                survey.review,
                json_object(
                    'station_id', station.station_id,
                    'date', survey.date,
                    'start_time', survey.start_time,
                    'minutes', survey.minutes,
                    'observer', survey.observer,
                    'air_temp_c', survey.air_temp_c,
                    'wind_beaufort', survey.wind_beaufort,
                    'sky_code', survey.sky_code,
                    'noise', survey.noise,
                    'notes', survey.notes,
                    'calls', (
                        SELECT json_group_object(species.species_id, call.level)
                        FROM call
                        JOIN species ON species.id = call.species
                        WHERE call.survey = survey.id))
            FROM survey
            JOIN station ON station.id = survey.station
            WHERE survey.id = @survey
            """,
            new { survey, import });
        connection.Execute("DELETE FROM call WHERE survey = @survey", new { survey });
    }

    private static string Review(ReviewStatus status) => status switch
    {
        ReviewStatus.Accepted => "accepted",
        ReviewStatus.Held => "held",
        ReviewStatus.Refused => "refused",
        _ => throw new ArgumentOutOfRangeException(nameof(status), status, "Not a review status."),
    };

    private static Dictionary<string, long> SurveyKeys(SqliteConnection connection) =>
        Keys(connection, "SELECT survey_id AS Text, id AS Key FROM survey");

    private sealed record KeyRow(string Text, long Key);

    private static Dictionary<string, long> Keys(SqliteConnection connection, string sql) =>
        connection.Query<KeyRow>(sql, buffered: false).ToDictionary(row => row.Text, row => row.Key, StringComparer.Ordinal);
}
