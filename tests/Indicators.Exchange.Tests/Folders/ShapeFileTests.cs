using Indicators.Exchange.Folders;
using Indicators.Exchange.Shapes;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Exchange.Tests.Folders;

public class ShapeFileTests
{
    private const string Square = """{"type":"Polygon","coordinates":[[[-91,45],[-90,45],[-90,46],[-91,46],[-91,45]]]}""";

    private static FolderFile<ShapeRow> Read(string content)
    {
        using var folder = new TempFolder().With("watersheds.geojson", content);
        return folder.Read().Shapes;
    }

    private static string Collection(params string[] features) =>
        $"{{ \"type\": \"FeatureCollection\",\n \"features\": [\n{string.Join(",\n", features)}\n] }}\n";

    private static string Feature(string properties, string geometry) => $$"""{ "type": "Feature", "properties": {{properties}}, "geometry": {{geometry}} }""";

    [Fact]
    public void Features_give_code_name_and_geometry_with_their_lines()
    {
        var file = Read(Collection(
            Feature("""{ "watershed_code": "990101", "name": "Upper" }""", Square.Replace(",", ",\n ", StringComparison.Ordinal)),
            Feature("""{ "higherGeographyID": "990102" }""", Square),
            $$"""{ "id": "990103", "type": "Feature", "properties": null, "geometry": {{Square}} }"""));
        Assert.Null(file.Refusal);
        Assert.Equal(["990101", "990102", "990103"], file.Rows.Select(r => r.Value!.Code.ToString()));
        Assert.Equal(["Upper", null, null], file.Rows.Select(r => r.Value!.Name));
        Assert.All(file.Rows, r => Assert.Equal(Square, r.Value!.GeometryJson));
        int lineBreaksInFirst = Square.Count(c => c == ',');
        Assert.Equal([3, 4 + lineBreaksInFirst, 5 + lineBreaksInFirst], file.Rows.Select(r => r.Source.Line));
    }

    [Theory]
    [InlineData("""{ "name": "no code" }""", Square, "watershed_code")]
    [InlineData("""{ "watershed_code": 990101 }""", """{"type":"Point","coordinates":[1,2]}""", "geometry")]
    [InlineData("""{ "watershed_code": "99" }""", """{"type":"Polygon","coordinates":[[[-91,45],[-90,45],[-90,46],[-91,46]]]}""", "geometry")]
    [InlineData("""{ "watershed_code": "99" }""", """{"type":"Polygon","coordinates":[[[45,-91],[45,-90],[46,-90],[45,-91]]]}""", "geometry")]
    [InlineData("""{ "watershed_code": "99" }""", "null", "geometry")]
    public void Feature_without_code_or_a_proper_shape_is_refused(string properties, string geometry, string column)
    {
        var file = Read(Collection(Feature(properties, geometry)));
        Assert.Equal(column, Assert.Single(Assert.Single(file.Rows).Problems).Column);
    }

    [Theory]
    [InlineData("{ nothing", ProblemKind.NotGeoJson)]
    [InlineData("""{ "type": "Feature" }""", ProblemKind.NotGeoJson)]
    [InlineData("""{ "type": "FeatureCollection" }""", ProblemKind.NotGeoJson)]
    [InlineData("""{ "type": "FeatureCollection", "features": [] } x""", ProblemKind.NotGeoJson)]
    [InlineData("[]", ProblemKind.NotGeoJson)]
    [InlineData(" ", ProblemKind.FileEmpty)]
    public void Text_that_is_no_collection_is_refused_whole(string content, ProblemKind kind) => Assert.Equal(kind, Read(content).Refusal!.Kind);

    [Fact]
    public void Half_a_surrogate_pair_is_a_name_that_is_none()
    {
        var file = Read(Collection(Feature("""{ "watershed_code": "99", "name": "\ud800" }""", Square)));
        Assert.Null(Assert.Single(file.Rows).Value!.Name);
    }

    [Theory]
    [InlineData("""{ "\ud800": 1, "watershed_code": "99" }""")]
    [InlineData("""{ "watershed_code": "99", "\ud800atershed_code": 2 }""")]
    [InlineData("""{ "watershed_code": "99", "na\u006de": "x" }""")]
    public void Key_that_is_no_text_is_passed_over(string properties) =>
        Assert.Equal("99", Assert.Single(Read(Collection(Feature(properties, Square))).Rows).Key);

    [Fact]
    public void Same_code_twice_refuses_both()
    {
        var file = Read(Collection(Feature("""{ "watershed_code": "99" }""", Square), Feature("""{ "watershed_code": "99" }""", Square)));
        Assert.Equal([4, 3], file.Rows.Select(r => Assert.Single(r.Problems).OtherLine!.Value));
    }

    [Fact]
    public void Shape_holds_what_lies_inside_or_on_its_edge_and_not_what_lies_in_a_hole()
    {
        var shape = WatershedShapeGeometry.Parse(
            """{"type":"MultiPolygon","coordinates":[[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[4,4],[6,4],[6,6],[4,6],[4,4]]],[[[20,0],[21,0],[21,1],[20,0]]]]}""").Value;
        Assert.True(shape.Contains(GeoPoint.At(1, 1)));
        Assert.True(shape.Contains(GeoPoint.At(0, 5)));
        Assert.True(shape.Contains(GeoPoint.At(0.5, 20.8)));
        Assert.False(shape.Contains(GeoPoint.At(5, 5)));
        Assert.False(shape.Contains(GeoPoint.At(5, 15)));
        Assert.False(shape.Contains(GeoPoint.At(10.001, 5)));
    }
}
