using System.Buffers;

namespace Indicators.Exchange.Export;

/// <summary>The formats a table is written in.</summary>
public enum ExportFormat
{
    /// <summary>RFC 4180: comma, quotes where needed, a heading line; line feeds alone, UTF-8 without a mark.</summary>
    Csv,

    /// <summary>RFC 8259: an array of objects, the columns' names as keys, null for what does not exist; one object a line.</summary>
    Json,
}

/// <summary>
/// Writes tables as UTF-8, in any culture the same bytes. Real numbers have the fewest digits that read back as the same
/// number; a value that does not exist is left empty, never 0.
/// </summary>
public static class TableWriter
{
    private const int Chunk = 1 << 16;

    /// <summary>The ending of a file of this format, without the dot.</summary>
    public static string Extension(ExportFormat format) => format == ExportFormat.Json ? "json" : "csv";

    /// <summary>The media type of this format (RFC 4180, RFC 8259).</summary>
    public static string MediaType(ExportFormat format) =>
        format == ExportFormat.Json ? "application/json" : "text/csv; charset=utf-8; header=present";

    /// <summary>Writes a whole table, row by row, never holding more than a part of it.</summary>
    /// <param name="table">The table.</param>
    /// <param name="format">How.</param>
    /// <param name="stream">Where to; left open.</param>
    /// <param name="cancel">Stops between parts.</param>
    public static async Task WriteAsync(ExportTable table, ExportFormat format, Stream stream, CancellationToken cancel)
    {
        var buffer = new ArrayBufferWriter<byte>(Chunk * 2);
        using IRowWriter rows = format == ExportFormat.Json ? new JsonRows(table.Columns, buffer) : new CsvRows(buffer);
        rows.Begin(table.Columns);
        foreach (var row in table.Rows)
        {
            rows.Row(row);
            if (buffer.WrittenCount < Chunk)
                continue;
            await stream.WriteAsync(buffer.WrittenMemory, cancel).ConfigureAwait(false);
            buffer.ResetWrittenCount();
        }
        rows.End();
        await stream.WriteAsync(buffer.WrittenMemory, cancel).ConfigureAwait(false);
    }
}

/// <summary>Puts rows of a table into a buffer.</summary>
internal interface IRowWriter : IDisposable
{
    void Begin(IReadOnlyList<string> columns);

    void Row(IReadOnlyList<object?> cells);

    void End();
}
