using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Indicators.Exchange.Export;

/// <summary>Rows as the objects of one JSON array, one a line.</summary>
internal sealed class JsonRows(IReadOnlyList<string> columns, IBufferWriter<byte> buffer) : IRowWriter
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private readonly JsonEncodedText[] _names = [.. columns.Select(column => JsonEncodedText.Encode(column))];
    private readonly Utf8JsonWriter _json = new(buffer, Options);
    private bool _any;

    public void Begin(IReadOnlyList<string> columns) => buffer.Write("["u8);

    public void Row(IReadOnlyList<object?> cells)
    {
        buffer.Write(_any ? ",\n"u8 : "\n"u8);
        _any = true;
        _json.Reset();
        _json.WriteStartObject();
        for (int i = 0; i < cells.Count; i++)
            Write(_names[i], cells[i]);
        _json.WriteEndObject();
        _json.Flush();
    }

    public void End() => buffer.Write("\n]\n"u8);

    public void Dispose() => _json.Dispose();

    private void Write(JsonEncodedText name, object? cell)
    {
        switch (cell)
        {
            case string text:
                _json.WriteString(name, text);
                break;
            case double number when double.IsFinite(number):
                _json.WriteNumber(name, number == 0 ? 0 : number);
                break;
            case int number:
                _json.WriteNumber(name, number);
                break;
            case null or double:
                _json.WriteNull(name);
                break;
            default:
                throw new ArgumentException($"No cell holds a {cell.GetType().Name}.", nameof(cell));
        }
    }
}
