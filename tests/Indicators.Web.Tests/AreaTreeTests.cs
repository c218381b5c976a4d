using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class AreaTreeTests
{
    private static AreaTree Tree(params (string Code, int Surveys)[] areas) =>
        new([.. areas.Select(area => new Area { Code = WatershedCode.Parse(area.Code).Value, Surveys = area.Surveys })]);

    private static IEnumerable<string> Codes(IEnumerable<AreaNode> nodes) => nodes.Select(node => node.Area.Code.ToString());

    [Fact]
    public void Area_that_only_repeats_the_one_in_it_is_not_shown()
    {
        var tree = Tree(("99", 30), ("9901", 30), ("990101", 30), ("99010101", 10), ("99010102", 20));
        Assert.Equal(["990101", "99010101", "99010102"], Codes(tree.Shown));
        Assert.Equal("990101", tree.Whole?.Area.Code.ToString());
        Assert.Equal(["99010101", "99010102"], Codes(tree.Smallest));
    }

    [Fact]
    public void Area_with_stations_of_its_own_is_shown_beside_the_one_in_it() =>
        Assert.Equal(["9901", "990101"], Codes(Tree(("9901", 30), ("990101", 20)).Shown));

    [Fact]
    public void Programmes_in_two_regions_have_no_whole() => Assert.Null(Tree(("98", 10), ("99", 10)).Whole);

    [Fact]
    public void Single_area_is_whole_and_smallest()
    {
        var tree = Tree(("990101010101", 5));
        Assert.Equal(tree.Whole, Assert.Single(tree.Smallest));
    }

    [Fact]
    public void Levels_may_be_missing_between() =>
        Assert.Equal(["99", "990101010101"], Codes(Tree(("99", 9), ("990101010101", 4)).Around(WatershedCode.Parse("990101010101").Value)).Append("990101010101"));

    [Fact]
    public void Nothing_has_no_areas() => Assert.Empty(Tree().Shown);
}
