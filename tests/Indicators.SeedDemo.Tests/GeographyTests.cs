using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;
using NetTopologySuite.Operation.Union;
using Xunit;

namespace Indicators.SeedDemo.Tests;

/// <summary>The committed shapes, read and judged by NetTopologySuite, which had no part in drawing them.</summary>
public sealed class GeographyTests
{
    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };
    private static readonly Dictionary<string, Geometry> Shapes = Read();

    private static Dictionary<string, Geometry> Read()
    {
        string text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "watersheds.geojson"));
        return JsonSerializer.Deserialize<FeatureCollection>(text, GeoJson)!
            .ToDictionary(feature => (string)feature.Attributes["watershed_code"], feature => feature.Geometry);
    }

    [Fact]
    public void Every_watershed_of_eight_digits_or_more_has_one_valid_shape()
    {
        Assert.Equal(
            District.Larger.Select(w => w.Code).Where(code => code.Length >= 8).Concat(District.Smallest.Select(w => w.Code)).Order(StringComparer.Ordinal),
            Shapes.Keys.Order(StringComparer.Ordinal));
        Assert.All(Shapes, shape => Assert.True(shape.Value.IsValid, shape.Key));
        Assert.All(Shapes, shape => Assert.True(((Polygon)shape.Value).Shell.IsCCW, shape.Key));
    }

    [Fact]
    public void Smaller_watersheds_tile_the_larger_one_without_gap_or_overlap()
    {
        foreach (var (code, larger) in Shapes.Where(shape => shape.Key.Length < 12))
        {
            var parts = Shapes.Where(shape => shape.Key.Length == 12 && shape.Key.StartsWith(code, StringComparison.Ordinal)).Select(shape => shape.Value).ToList();
            var union = CascadedPolygonUnion.Union(parts);

            Assert.True(union.EqualsTopologically(larger), code);
            Assert.Equal(larger.Area, parts.Sum(part => part.Area), 1e-12);
        }
    }

    [Fact]
    public void Every_station_lies_in_its_own_watershed()
    {
        foreach (var station in new Scenario(Scenario.CommittedSeed).Programme.Stations)
        {
            var place = new Point(station.Place.Longitude, station.Place.Latitude);
            Assert.Equal(station.Wetland.Watershed.Code, Assert.Single(Shapes, shape => shape.Key.Length == 12 && shape.Value.Contains(place)).Key);
        }
    }

    [Fact]
    public void Borders_are_not_straight()
    {
        foreach (var (code, shape) in Shapes)
            Assert.True(shape.ConvexHull().Area > 1.02 * shape.Area && shape.NumPoints > 60, code);
    }
}
