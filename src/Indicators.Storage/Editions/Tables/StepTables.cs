using Dapper;
using Indicators.Analysis.Results;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Steps between two editions.</summary>
internal static class StepTables
{
    private const string Whole = "step";

    private static readonly ResultTable<Trend> Trends = TrendTable.Trends.As("edition_step_trend", Whole);

    private static readonly ResultTable<Condition> Conditions = ConditionTables.Heads.As("edition_step_condition", Whole);

    private sealed record StepRow(long Number, long Causes);

    internal static void Write(SqliteConnection connection, long before, long after, int place, EditionStep step)
    {
        long number = connection.QuerySingle<long>(
            """
            INSERT INTO edition_step (before, after, place, causes)
            VALUES (@before, @after, @place, @causes)
            RETURNING number
            """,
            new { before, after, place, causes = (int)step.Causes });
        Trends.Write(connection, number, step.Trends);
        Conditions.Write(connection, number, step.Conditions);
    }

    /// <summary>All steps in order.</summary>
    internal static List<EditionStep> Read(SqliteConnection connection, long before, long after) =>
    [
        .. connection.Query<StepRow>(
            "SELECT number AS Number, causes AS Causes FROM edition_step WHERE before = @before AND after = @after ORDER BY place",
            new { before, after })
            .Select(step => new EditionStep((EditionCauses)step.Causes, Trends.Read(connection, step.Number), Conditions.Read(connection, step.Number))),
    ];

    internal static void Clear(SqliteConnection connection, long before, long after) =>
        connection.Execute("DELETE FROM edition_step WHERE before = @before AND after = @after", new { before, after });

    internal static long Latest(SqliteConnection connection) => connection.QuerySingle<long>("SELECT coalesce(max(number), 0) FROM edition_step");
}
