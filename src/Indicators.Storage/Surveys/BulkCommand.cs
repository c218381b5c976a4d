using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Surveys;

/// <summary>
/// One prepared statement run once a row. Its parameters are named $1, $2, … and bound by position; a whole statement
/// parsed for every row would cost more than the row.
/// </summary>
internal sealed class BulkCommand : IDisposable
{
    private readonly SqliteCommand _command;

    internal BulkCommand(SqliteConnection connection, string sql, int parameters)
    {
        _command = connection.CreateCommand();
        _command.CommandText = sql;
        for (int i = 1; i <= parameters; i++)
            _command.Parameters.Add(new SqliteParameter { ParameterName = FormattableString.Invariant($"${i}") });
        _command.Prepare();
    }

    internal void Run(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++)
            _command.Parameters[i].Value = values[i] ?? DBNull.Value;
        _command.ExecuteNonQuery();
    }

    public void Dispose() => _command.Dispose();
}
