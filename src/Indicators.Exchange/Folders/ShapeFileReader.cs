using System.Text;
using System.Text.Json;
using System.Text.Unicode;
using Indicators.Exchange.Shapes;
using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>
/// Reads watersheds.geojson: a FeatureCollection (RFC 7946) whose features carry the code as property
/// <c>watershed_code</c>, <c>higherGeographyID</c> or as the feature's id, and perhaps a <c>name</c>.
/// </summary>
internal static class ShapeFileReader
{
    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];

    public static FolderFile<ShapeRow> Read(string name, byte[] bytes)
    {
        var file = new FolderFile<ShapeRow> { Name = name, IsPresent = true, Bytes = bytes };
        int start = bytes.AsSpan().StartsWith(ByteOrderMark) ? ByteOrderMark.Length : 0;
        if (bytes.AsSpan(start).IndexOfAnyExcept(" \t\r\n"u8) < 0)
            return file with { Refusal = new Problem(ProblemKind.FileEmpty, name) };
        if (!Utf8.IsValid(bytes))
        {
            var (line, place) = FirstBadByte(bytes);
            return file with { Refusal = new Problem(ProblemKind.FileNotUtf8, name) { Line = line, Count = place } };
        }
        try
        {
            if (FindFeatures(bytes, start) is not { } sources)
                return file with { Refusal = new Problem(ProblemKind.NotGeoJson, name) };
            return file with { Rows = RefuseRepeated(name, [.. sources.Select(source => ReadFeature(name, bytes, source))]) };
        }
        catch (JsonException error)
        {
            return file with { Refusal = new Problem(ProblemKind.NotGeoJson, name) { Line = (int?)error.LineNumber + 1 } };
        }
    }

    private static (int Line, int Byte) FirstBadByte(byte[] bytes)
    {
        int at = 0;
        while (Rune.DecodeFromUtf8(bytes.AsSpan(at), out _, out int length) == System.Buffers.OperationStatus.Done) at += length;
        return (bytes.AsSpan(0, at).Count((byte)'\n') + 1, at - bytes.AsSpan(0, at).LastIndexOf((byte)'\n'));
    }

    /// <summary>Where each feature stands; null when the text is JSON but no FeatureCollection.</summary>
    private static List<RowSource>? FindFeatures(byte[] bytes, int start)
    {
        var reader = new Utf8JsonReader(bytes.AsSpan(start));
        List<RowSource>? sources = null;
        bool isCollection = false;
        int line = 1;
        int counted = 0;
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject) return null;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            bool isFeatures = reader.ValueTextEquals("features"u8);
            bool isType = reader.ValueTextEquals("type"u8);
            reader.Read();
            if (isType && reader.TokenType == JsonTokenType.String) isCollection = reader.ValueTextEquals("FeatureCollection"u8);
            if (!isFeatures || reader.TokenType != JsonTokenType.StartArray)
            {
                reader.Skip();
                continue;
            }
            sources = [];
            while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
            {
                int at = start + (int)reader.TokenStartIndex;
                line += bytes.AsSpan(start + counted, at - start - counted).Count((byte)'\n');
                counted = at - start;
                reader.Skip();
                sources.Add(new RowSource(line, at, start + (int)reader.BytesConsumed));
            }
        }
        reader.Read(); // Anything after the object's end is an error that the reader throws.
        return isCollection ? sources : null;
    }

    private static FolderRow<ShapeRow> ReadFeature(string name, byte[] bytes, RowSource source)
    {
        using var document = JsonDocument.Parse(bytes.AsMemory(source.Start, source.End - source.Start));
        var feature = document.RootElement;
        var properties = Member(feature, "properties");
        string column = Member(properties, "watershed_code") is null && Member(properties, "higherGeographyID") is not null
            ? "higherGeographyID"
            : "watershed_code";
        string codeText = Text(Member(properties, column) ?? Member(feature, "id"));
        var problems = new List<Problem>();
        var code = WatershedCode.Parse(codeText);
        if (!code.IsValid) problems.Add(Problem.OfValue(name, source.Line, column, code.Problem));
        string? watershedName = Text(Member(properties, "name")).Trim() is { Length: > 0 } text ? text : null;

        string geometryJson = "";
        var geometry = Member(feature, "geometry");
        var shape = geometry is null
            ? new FieldProblem("", "a watershed's shape", "a geometry of type Polygon or MultiPolygon")
            : WatershedShapeGeometry.Parse(geometry.Value);
        if (shape.IsValid)
            geometryJson = Compact(geometry!.Value);
        else
            problems.Add(Problem.OfValue(name, source.Line, "geometry", shape.Problem));

        var row = problems.Count == 0 ? new ShapeRow(code.Value, watershedName, geometryJson) : null;
        return new FolderRow<ShapeRow>(source, codeText.Trim() is { Length: > 0 } key ? key : null, row, problems);
    }

    private static FolderRow<ShapeRow>[] RefuseRepeated(string name, FolderRow<ShapeRow>[] rows)
    {
        foreach (var same in rows.Index().Where(r => r.Item.Key is not null).GroupBy(r => r.Item.Key, StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            int[] places = [.. same.Select(r => r.Index)];
            int[] lines = [.. same.Select(r => r.Item.Source.Line)];
            for (int i = 0; i < places.Length; i++)
            {
                var row = rows[places[i]];
                var problem = new Problem(ProblemKind.IdRepeated, name)
                {
                    Line = row.Source.Line,
                    Column = "watershed_code",
                    Value = row.Key,
                    OtherLine = i == 0 ? lines[1] : lines[0],
                };
                rows[places[i]] = row with { Value = null, Problems = [.. row.Problems, problem] };
            }
        }
        return rows;
    }

    /// <summary>The type and the coordinates with their digits as given, and nothing else, so that equal shapes are equal text.</summary>
    private static string Compact(JsonElement geometry)
    {
        string type = JsonText.Member(geometry, "type")!.Value.GetString()!;
        return $$"""{"type":"{{type}}","coordinates":{{JsonSerializer.Serialize(JsonText.Member(geometry, "coordinates")!.Value)}}}""";
    }

    private static JsonElement? Member(JsonElement? parent, string name) =>
        parent is { } element && JsonText.Member(element, name) is { ValueKind: not JsonValueKind.Null } member ? member : null;

    private static string Text(JsonElement? element) => element switch
    {
        null => "",
        { ValueKind: JsonValueKind.String } text => JsonText.OrNull(text) ?? "",
        { } other => other.GetRawText(),
    };
}
