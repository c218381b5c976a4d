using System.Text.Json;
using Indicators.Monitoring;

namespace Indicators.Web.Maps;

/// <summary>The rings of one area's shape, longitude before latitude in degrees.</summary>
internal sealed record AreaOutline(WatershedCode Code, IReadOnlyList<IReadOnlyList<(double Longitude, double Latitude)>> Rings)
{
    /// <summary>Reads a GeoJSON Polygon or MultiPolygon; other geometries give no rings.</summary>
    public static AreaOutline Read(WatershedCode code, string geometryJson)
    {
        using var document = JsonDocument.Parse(geometryJson);
        var coordinates = document.RootElement.GetProperty("coordinates");
        var rings = document.RootElement.GetProperty("type").GetString() switch
        {
            "Polygon" => coordinates.EnumerateArray().Select(Ring),
            "MultiPolygon" => coordinates.EnumerateArray().SelectMany(polygon => polygon.EnumerateArray()).Select(Ring),
            _ => [],
        };
        return new AreaOutline(code, rings.ToList());
    }

    private static IReadOnlyList<(double, double)> Ring(JsonElement ring) =>
        ring.EnumerateArray().Select(position => (position[0].GetDouble(), position[1].GetDouble())).ToList();
}
