using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Indicators.Monitoring;
using Indicators.Web.Maps;
using Xunit;

namespace Indicators.Web.Tests;

public sealed partial class AreaMapTests
{
    private static readonly WatershedCode Code = WatershedCode.Parse("990100010101").Value;

    private static XElement Draw(string geometry) =>
        AreaMap.Draw([AreaOutline.Read(Code, geometry)], [new MapArea(Code, 1, 3, "1 Marl Creek", "/watersheds/990100010101")], "a map")!;

    private static (double Width, double Height, double Middle, double Down) Extent(XElement map)
    {
        string data = map.Descendants("path").Single(each => each.Attribute("class")!.Value.StartsWith("area", StringComparison.Ordinal)).Attribute("d")!.Value;
        var numbers = Pair().Matches(data).Select(match => (X: Number(match.Groups[1].Value), Y: Number(match.Groups[2].Value))).ToList();
        var circle = map.Descendants("circle").Single();
        return (numbers.Max(at => at.X) - numbers.Min(at => at.X), numbers.Max(at => at.Y) - numbers.Min(at => at.Y), Number(circle.Attribute("cx")!.Value), Number(circle.Attribute("cy")!.Value));
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    // One degree each way around 60° north: east-west is half as long as north-south (cos 60° = 1/2).
    [Fact]
    public void Degree_of_longitude_at_sixty_north_is_half_a_degree_of_latitude()
    {
        var (width, height, _, _) = Extent(Draw("""{"type":"Polygon","coordinates":[[[20,59.5],[21,59.5],[21,60.5],[20,60.5],[20,59.5]]]}"""));
        Assert.Equal(0.5, width / height, 0.001);
    }

    [Fact]
    public void Number_stands_in_the_middle_of_the_largest_piece()
    {
        var map = Draw("""{"type":"MultiPolygon","coordinates":[[[[0,0],[2,0],[2,2],[0,2],[0,0]]],[[[3,0],[3.2,0],[3.2,0.2],[3,0.2],[3,0]]]]}""");
        var (width, _, middle, down) = Extent(map);
        double west = 6;
        Assert.Equal(west + (width * 1 / 3.2), middle, 0.5);
        Assert.True(down > 100);
    }

    [Fact]
    public void Shape_over_the_date_line_is_one_piece()
    {
        var (width, height, _, _) = Extent(Draw("""{"type":"Polygon","coordinates":[[[179,0],[-179,0],[-179,2],[179,2],[179,0]]]}"""));
        Assert.Equal(1, width / height, 0.001);
    }

    [Fact]
    public void Corners_too_near_to_tell_apart_are_dropped()
    {
        string many = string.Join(',', Enumerable.Range(0, 20000).Select(place => FormattableString.Invariant($"[{place / 20000.0},{0.0001 * (place % 2)}]")));
        string data = Draw($$"""{"type":"Polygon","coordinates":[[{{many}},[1,1],[0,1],[0,0]]]}""").ToString();
        Assert.True(data.Length < 15_000, $"{data.Length} characters");
    }

    [Fact]
    public void Other_geometries_make_no_map() =>
        Assert.Null(AreaMap.Draw([AreaOutline.Read(Code, """{"type":"Point","coordinates":[1,2]}""")], [new MapArea(Code, 1, 3, "x", "/")], "a map"));

    [GeneratedRegex(@"[ML](-?[\d.]+) (-?[\d.]+)")]
    private static partial Regex Pair();
}
