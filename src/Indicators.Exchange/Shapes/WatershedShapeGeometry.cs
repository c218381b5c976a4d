using System.Text.Json;
using Indicators.Monitoring;
using NetTopologySuite.Algorithm.Locate;
using NetTopologySuite.Geometries;

namespace Indicators.Exchange.Shapes;

/// <summary>
/// The shape of a watershed: a Polygon or MultiPolygon of RFC 7946 (longitude before latitude, WGS 84), ready to be asked
/// whether a place lies in it. Degrees are taken as plane coordinates, which is near enough for the size of a watershed
/// that does not reach a pole or cross the 180th meridian.
/// </summary>
public sealed class WatershedShapeGeometry
{
    private const int FewestPositions = 4;
    private static readonly GeometryFactory Factory = new();
    private readonly IndexedPointInAreaLocator _locator;

    private WatershedShapeGeometry(Geometry geometry) => _locator = new IndexedPointInAreaLocator(geometry);

    /// <summary>Reads a geometry; what is wrong with it is a problem.</summary>
    public static Parsed<WatershedShapeGeometry> Parse(string geometryJson)
    {
        try
        {
            using var document = JsonDocument.Parse(geometryJson);
            return Parse(document.RootElement);
        }
        catch (JsonException)
        {
            return Wrong("", "a geometry as RFC 7946 has it");
        }
    }

    /// <summary>Reads a geometry that is parsed JSON already.</summary>
    public static Parsed<WatershedShapeGeometry> Parse(JsonElement geometry)
    {
        if (geometry.ValueKind != JsonValueKind.Object) return Wrong(geometry.ValueKind.ToString(), "a geometry as RFC 7946 has it");
        string type = JsonText.Member(geometry, "type") is { } t ? JsonText.OrNull(t) ?? "" : "";
        if (JsonText.Member(geometry, "coordinates") is not { } coordinates) return Wrong(type, "a geometry with coordinates");
        Geometry? read = type switch
        {
            "Polygon" => ReadPolygon(coordinates),
            "MultiPolygon" => ReadMany(coordinates),
            _ => null,
        };
        return read is null
            ? Wrong(type, "a Polygon or MultiPolygon of closed rings, longitude before latitude in decimal degrees")
            : new WatershedShapeGeometry(read);
    }

    /// <summary>Whether the place lies in the shape or on its edge.</summary>
    public bool Contains(GeoPoint place) => _locator.Locate(new Coordinate(place.Longitude, place.Latitude)) != Location.Exterior;

    private static FieldProblem Wrong(string value, string rule) => new(value, "a watershed's shape", rule);

    private static MultiPolygon? ReadMany(JsonElement coordinates)
    {
        var polygons = ReadList(coordinates, ReadPolygon);
        return polygons is null ? null : Factory.CreateMultiPolygon([.. polygons]);
    }

    private static Polygon? ReadPolygon(JsonElement coordinates)
    {
        var rings = ReadList(coordinates, ReadRing);
        return rings is null ? null : Factory.CreatePolygon(rings[0], [.. rings.Skip(1)]);
    }

    private static LinearRing? ReadRing(JsonElement ring)
    {
        var positions = ReadList(ring, ReadPosition);
        return positions is not null && positions.Count >= FewestPositions && positions[0].Equals2D(positions[^1])
            ? Factory.CreateLinearRing([.. positions])
            : null;
    }

    private static Coordinate? ReadPosition(JsonElement position)
    {
        if (position.ValueKind != JsonValueKind.Array || position.GetArrayLength() < 2) return null;
        return Degrees(position[0], 180) is { } longitude && Degrees(position[1], 90) is { } latitude ? new Coordinate(longitude, latitude) : null;
    }

    private static double? Degrees(JsonElement number, double limit) =>
        number.ValueKind == JsonValueKind.Number && number.TryGetDouble(out double degrees) && Math.Abs(degrees) <= limit ? degrees : null;

    /// <summary>Reads every element of a list that has any; null when one of them cannot be read.</summary>
    private static List<T>? ReadList<T>(JsonElement list, Func<JsonElement, T?> read)
        where T : class
    {
        if (list.ValueKind != JsonValueKind.Array || list.GetArrayLength() == 0) return null;
        var items = new List<T>(list.GetArrayLength());
        foreach (var element in list.EnumerateArray())
        {
            if (read(element) is not { } item) return null;
            items.Add(item);
        }
        return items;
    }
}
