using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>One column of a result table and what of a result stands in it.</summary>
internal sealed record Column<T>(string Name, Func<T, object?> Value);

/// <summary>
/// One table of an edition: its columns named once, for writing and for reading. Doubles are stored as they are.
/// </summary>
internal sealed class ResultTable<T>
{
    private readonly string _name;
    private readonly Func<SqliteDataReader, T> _read;
    private readonly IReadOnlyList<Column<T>> _columns;
    private readonly string _insert;
    private readonly string _select;
    private readonly string _whole;

    /// <param name="name">The table.</param>
    /// <param name="order">What its rows are ordered by.</param>
    /// <param name="read">Makes a result of a row.</param>
    /// <param name="columns">All columns but the edition's number.</param>
    /// <param name="whole">The column of what the rows belong to.</param>
    internal ResultTable(string name, string order, Func<SqliteDataReader, T> read, IReadOnlyList<Column<T>> columns, string whole = "edition")
    {
        _name = name;
        _whole = whole;
        _read = read;
        _columns = columns;
        string names = string.Join(", ", columns.Select(column => column.Name));
        string values = string.Join(", ", columns.Select((_, i) => string.Create(CultureInfo.InvariantCulture, $"?{i + 2}")));
        _insert = $"INSERT INTO {name} ({whole}, {names}) VALUES (?1, {values})";
        _select = $"SELECT {names} FROM {name} WHERE {whole} = $edition";
        Order = order;
    }

    private string Order { get; }

    /// <summary>The same columns in the table of another whole.</summary>
    internal ResultTable<T> As(string name, string whole) => new(name, Order, _read, _columns, whole);

    internal void Write(SqliteConnection connection, long edition, IEnumerable<T> rows)
    {
        using var insert = new BulkCommand(connection, _insert);
        insert.Whole(1, edition);
        foreach (var row in rows)
        {
            for (int i = 0; i < _columns.Count; i++)
                insert.Any(i + 2, _columns[i].Value(row));
            insert.Run();
        }
    }

    /// <summary>The edition's rows in order, those that match every given filter.</summary>
    internal List<T> Read(SqliteConnection connection, long edition, params ReadOnlySpan<(string Column, object? Value)> filters)
    {
        using var command = connection.CreateCommand();
        command.CommandText = _select;
        command.Parameters.AddWithValue("$edition", edition);
        foreach (var (column, value) in filters)
        {
            if (value is null)
                continue;
            command.CommandText += $" AND {column} = ${column}";
            command.Parameters.AddWithValue($"${column}", value);
        }
        command.CommandText += $" ORDER BY {Order}";
        var rows = new List<T>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            rows.Add(_read(reader));
        return rows;
    }

    /// <summary>Takes away the rows of one area.</summary>
    internal void Clear(SqliteConnection connection, long edition, string area)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"DELETE FROM {_name} WHERE {_whole} = $edition AND area = $area";
        command.Parameters.AddWithValue("$edition", edition);
        command.Parameters.AddWithValue("$area", area);
        command.ExecuteNonQuery();
    }
}
