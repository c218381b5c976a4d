using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Indicators.Storage;

/// <summary>
/// One prepared statement run once a row, its parameters bound by position (?1, ?2, …); what is bound stays bound until
/// something else is. Bound directly, without an ADO.NET parameter object a value, which costs about as much as the row itself.
/// </summary>
internal sealed class BulkCommand : IDisposable
{
    private readonly sqlite3 _database;
    private readonly sqlite3_stmt _statement;
    private readonly string?[] _texts;

    internal BulkCommand(SqliteConnection connection, string sql)
    {
        _database = connection.Handle!;
        Check(raw.sqlite3_prepare_v2(_database, sql, out _statement));
        _texts = new string?[raw.sqlite3_bind_parameter_count(_statement) + 1];
    }

    internal BulkCommand Text(int position, string? value)
    {
        // The same id often stands in many rows one after another.
        if (value is not null && ReferenceEquals(_texts[position], value))
            return this;
        Bound(position, value is null ? raw.sqlite3_bind_null(_statement, position) : raw.sqlite3_bind_text(_statement, position, value));
        _texts[position] = value;
        return this;
    }

    internal BulkCommand Whole(int position, long? value) =>
        Bound(position, value is { } number ? raw.sqlite3_bind_int64(_statement, position, number) : raw.sqlite3_bind_null(_statement, position));

    internal BulkCommand Real(int position, double? value) =>
        Bound(position, value is { } number ? raw.sqlite3_bind_double(_statement, position, number) : raw.sqlite3_bind_null(_statement, position));

    /// <summary>Binds a value of one of the kinds a column can hold.</summary>
    internal BulkCommand Any(int position, object? value) => value switch
    {
        null => Text(position, null),
        string text => Text(position, text),
        double number => Real(position, number),
        int number => Whole(position, number),
        long number => Whole(position, number),
        bool flag => Whole(position, flag ? 1 : 0),
        byte[] bytes => Bound(position, raw.sqlite3_bind_blob(_statement, position, bytes)),
        _ => throw new ArgumentException($"No column holds a {value.GetType().Name}.", nameof(value)),
    };

    /// <summary>Runs the row that was bound.</summary>
    internal void Run()
    {
        int result = raw.sqlite3_step(_statement);
        // Reset repeats the error of a failed step; the step's own result is the one to report.
        _ = raw.sqlite3_reset(_statement);
        if (result != raw.SQLITE_DONE)
            Check(result);
    }

    private BulkCommand Bound(int position, int result)
    {
        Check(result);
        _texts[position] = null;
        return this;
    }

    private void Check(int result) => SqliteException.ThrowExceptionForRC(result, _database);

    public void Dispose() => _statement.Dispose();
}
