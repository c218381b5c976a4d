using System.Text.Json;
using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Surveys;

/// <summary>Reads surveys with their calls. By hand and by position, for there may be hundreds of thousands.</summary>
internal static class SurveyRows
{
    private const string Columns = """
        survey.id,
        survey.survey_id,
        survey.station,
        survey.date,
        survey.start_time,
        survey.minutes,
        survey.observer,
        survey.air_temp_c,
        survey.wind_beaufort,
        survey.sky_code,
        survey.noise,
        survey.notes
        """;

    /// <summary>All accepted surveys, ordered by id.</summary>
    internal static IReadOnlyList<Survey> Accepted(SqliteConnection connection)
    {
        var surveys = Read(
            connection,
            $"SELECT {Columns} FROM survey WHERE review = 'accepted' ORDER BY survey.id",
            """
            SELECT call.survey, call.species, call.level
            FROM survey
            JOIN call ON call.survey = survey.id
            WHERE survey.review = 'accepted'
            ORDER BY survey.id
            """,
            ids: null);
        surveys.Sort((one, other) => one.Id.CompareTo(other.Id));
        return surveys;
    }

    /// <summary>The stored surveys among these ids.</summary>
    internal static Dictionary<Id<Survey>, Survey> WithIds(SqliteConnection connection, IReadOnlyCollection<Id<Survey>> ids)
    {
        if (ids.Count == 0)
            return [];
        string wanted = JsonSerializer.Serialize(ids.Select(id => id.ToString()));
        return Read(
            connection,
            $"SELECT {Columns} FROM survey WHERE survey_id IN (SELECT value FROM json_each($ids)) ORDER BY survey.id",
            """
            SELECT call.survey, call.species, call.level
            FROM survey
            JOIN call ON call.survey = survey.id
            WHERE survey.survey_id IN (SELECT value FROM json_each($ids))
            ORDER BY survey.id
            """,
            wanted).ToDictionary(survey => survey.Id);
    }

    private static List<Survey> Read(SqliteConnection connection, string surveySql, string callSql, string? ids)
    {
        var stations = Names<Station>(connection, "SELECT id AS Key, station_id AS Text FROM station");
        var species = Names<Species>(connection, "SELECT id AS Key, species_id AS Text FROM species");
        var calls = Calls(connection, callSql, ids, species);

        var surveys = new List<Survey>();
        // The same few observers and codes again and again: one string each.
        var texts = new Dictionary<string, string>(StringComparer.Ordinal);
        using var command = Command(connection, surveySql, ids);
        using var row = command.ExecuteReader();
        while (row.Read())
        {
            surveys.Add(new Survey
            {
                Id = StoredText.Id<Survey>(row.GetString(1)),
                Station = stations[row.GetInt64(2)],
                Date = StoredText.Date(row.GetString(3)),
                StartTime = row.IsDBNull(4) ? null : StoredText.Time(row.GetString(4)),
                Minutes = row.IsDBNull(5) ? null : row.GetDouble(5),
                Observer = Shared(6),
                AirTempC = row.IsDBNull(7) ? null : row.GetDouble(7),
                WindBeaufort = row.IsDBNull(8) ? null : row.GetInt32(8),
                SkyCode = Shared(9),
                Noise = Shared(10),
                Notes = row.IsDBNull(11) ? null : row.GetString(11),
                Calls = calls.GetValueOrDefault(row.GetInt64(0)) ?? [],
            });
        }

        return surveys;

        string? Shared(int column)
        {
            if (row.IsDBNull(column))
                return null;
            string text = row.GetString(column);
            return texts.TryGetValue(text, out string? known) ? known : texts[text] = text;
        }
    }

    private static Dictionary<long, Call[]> Calls(SqliteConnection connection, string sql, string? ids, Dictionary<long, Id<Species>> species)
    {
        var calls = new Dictionary<long, Call[]>();
        var current = new List<Call>();
        long survey = 0;
        using var command = Command(connection, sql, ids);
        using var row = command.ExecuteReader();
        while (row.Read())
        {
            if (row.GetInt64(0) != survey)
            {
                Close();
                survey = row.GetInt64(0);
            }
            current.Add(new Call(species[row.GetInt64(1)], CallLevel.Of(row.GetInt32(2)).Value));
        }
        Close();
        return calls;

        void Close()
        {
            if (current.Count == 0)
                return;
            current.Sort((one, other) => one.Species.CompareTo(other.Species));
            calls.Add(survey, [.. current]);
            current.Clear();
        }
    }

    private static SqliteCommand Command(SqliteConnection connection, string sql, string? ids)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        if (ids is not null)
            command.Parameters.AddWithValue("$ids", ids);
        return command;
    }

    private sealed record NameRow(long Key, string Text);

    private static Dictionary<long, Id<T>> Names<T>(SqliteConnection connection, string sql)
        where T : IIdentified =>
        connection.Query<NameRow>(sql).ToDictionary(row => row.Key, row => StoredText.Id<T>(row.Text));
}
