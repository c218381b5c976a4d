using System.Buffers;
using System.Globalization;
using System.Text;

namespace Indicators.Exchange.Export;

/// <summary>Rows as comma-separated values.</summary>
internal sealed class CsvRows(IBufferWriter<byte> buffer) : IRowWriter
{
    private static readonly SearchValues<char> NeedQuotes = SearchValues.Create(",\"\r\n");

    private readonly StringBuilder _line = new();

    public void Begin(IReadOnlyList<string> columns) => Row(columns);

    public void Row(IReadOnlyList<object?> cells)
    {
        _line.Clear();
        for (int i = 0; i < cells.Count; i++)
        {
            if (i > 0)
                _line.Append(',');
            Append(cells[i]);
        }
        _line.Append('\n');
        foreach (var part in _line.GetChunks())
            Encoding.UTF8.GetBytes(part.Span, buffer);
    }

    public void End()
    {
    }

    public void Dispose()
    {
    }

    private void Append(object? cell)
    {
        switch (cell)
        {
            case null:
                break;
            case string text:
                Append(text);
                break;
            case double number:
                // Infinities and not-a-numbers do not exist in results; if one ever arrives, an empty cell is the honest one.
                if (double.IsFinite(number))
                    _line.Append((number == 0 ? 0 : number).ToString("R", CultureInfo.InvariantCulture));
                break;
            case int number:
                _line.Append(CultureInfo.InvariantCulture, $"{number}");
                break;
            default:
                throw new ArgumentException($"No cell holds a {cell.GetType().Name}.", nameof(cell));
        }
    }

    private void Append(string text)
    {
        bool quoted = text.AsSpan().ContainsAny(NeedQuotes) || text.StartsWith(' ') || text.EndsWith(' ');
        if (quoted)
            _line.Append('"').Append(text.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
        else
            _line.Append(text);
    }
}
