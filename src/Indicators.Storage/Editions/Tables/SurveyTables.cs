using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>
/// The edition's own copy of the surveys. The largest tables of an edition, so they are written by position and read as
/// a stream: a survey's place is its rank by date, then id.
/// </summary>
internal static class SurveyTables
{
    /// <summary>After so many surveys the caller hears of it, and may have asked to stop.</summary>
    private const int ReportEvery = 1000;

    internal static void Write(SqliteConnection connection, long edition, IEnumerable<PublishedSurvey> surveys, CancellationToken cancel)
    {
        using var insert = new BulkCommand(connection, """
            INSERT INTO edition_survey (edition, place, survey_id, station_id, wetland_id, watershed_code, date, start_time,
                minutes, air_temp_c, wind_beaufort, sky_code, noise)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)
            """);
        using var call = new BulkCommand(connection, """
            INSERT INTO edition_call (edition, place, species_id, level)
            VALUES (?1, ?2, ?3, ?4)
            """);
        insert.Whole(1, edition);
        call.Whole(1, edition);
        int place = 0;
        PublishedSurvey? before = null;
        foreach (var survey in surveys)
        {
            if (before is not null && (before.Date, before.Id).CompareTo((survey.Date, survey.Id)) >= 0)
                throw new ArgumentException($"Survey {survey.Id} does not come after {before.Id} by date and id.", nameof(surveys));
            before = survey;
            if (++place % ReportEvery == 0)
                cancel.ThrowIfCancellationRequested();
            insert
                .Whole(2, place)
                .Text(3, survey.Id.ToString())
                .Text(4, survey.Station.ToString())
                .Text(5, survey.Wetland.ToString())
                .Text(6, survey.Watershed.ToString())
                .Text(7, StoredText.Of(survey.Date))
                .Text(8, survey.StartTime is { } start ? StoredText.Of(start) : null)
                .Real(9, survey.Minutes)
                .Real(10, survey.AirTempC)
                .Whole(11, survey.WindBeaufort)
                .Text(12, survey.SkyCode)
                .Text(13, survey.Noise)
                .Run();
            foreach (var heard in survey.Calls)
                call.Whole(2, place).Text(3, heard.Species.ToString()).Whole(4, heard.Level.Value).Run();
        }
    }

    internal static IEnumerable<PublishedSurvey> Read(SqliteConnection connection, long edition)
    {
        using var surveyCommand = Command(connection, edition, """
            SELECT
                place,
                survey_id,
                station_id,
                wetland_id,
                watershed_code,
                date,
                start_time,
                minutes,
                air_temp_c,
                wind_beaufort,
                sky_code,
                noise
            FROM edition_survey
            WHERE edition = $edition
            ORDER BY place
            """);
        using var callCommand = Command(connection, edition, """
            SELECT
                place,
                species_id,
                level
            FROM edition_call
            WHERE edition = $edition
            ORDER BY place, species_id
            """);
        using var row = surveyCommand.ExecuteReader();
        using var heard = callCommand.ExecuteReader();
        bool more = heard.Read();
        while (row.Read())
        {
            var calls = new List<Call>();
            for (; more && heard.GetInt64(0) == row.GetInt64(0); more = heard.Read())
                calls.Add(new Call(StoredText.Id<Species>(heard.GetString(1)), CallLevel.Of(heard.GetInt32(2)).Value));
            yield return new PublishedSurvey(
                StoredText.Id<Survey>(row.GetString(1)),
                StoredText.Id<Station>(row.GetString(2)),
                StoredText.Id<Wetland>(row.GetString(3)),
                StoredText.Code(row.GetString(4)),
                StoredText.Date(row.GetString(5)),
                row.IsDBNull(6) ? null : StoredText.Time(row.GetString(6)),
                row.IsDBNull(7) ? null : row.GetDouble(7),
                row.IsDBNull(8) ? null : row.GetDouble(8),
                row.IsDBNull(9) ? null : row.GetInt32(9),
                row.IsDBNull(10) ? null : row.GetString(10),
                row.IsDBNull(11) ? null : row.GetString(11),
                calls);
        }
    }

    private static SqliteCommand Command(SqliteConnection connection, long edition, string sql)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        command.Parameters.AddWithValue("$edition", edition);
        return command;
    }
}
