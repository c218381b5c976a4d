using System.Globalization;
using System.Xml.Linq;
using Indicators.Web.Charts;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class IndexChartTests
{
    private static ChartSeries Series(params (int Season, double? Index, double? Lower, double? Upper)[] points) =>
        new([.. points.Select(point => new ChartPoint(point.Season, point.Index, point.Lower, point.Upper, null))]);

    private static XElement Draw(ChartSeries series) => IndexChart.Draw(series, ChartSize.Small, "a chart");

    private static List<XElement> Of(XElement chart, string cssClass) => chart.Elements().Where(each => (string?)each.Attribute("class") == cssClass).ToList();

    [Fact]
    public void Baseline_is_always_drawn_once_however_high_the_chart()
    {
        for (double top = 20; top < 3000; top *= 1.13)
        {
            var series = Series((2012, top, 0, top), (2013, 100, 90, 110));
            var scale = new ChartScale(series, ChartSize.Small);
            Assert.Equal(Svg.Number(scale.Y(100)), Of(Draw(series), "baseline").Single().Attribute("y1")!.Value);
            Assert.DoesNotContain(100.0, scale.IndexTicks());
            Assert.InRange(scale.IndexTicks().Count(), 3, 8);
            Assert.True(scale.Top >= Math.Max(100, top));
        }
    }

    [Fact]
    public void Points_stand_where_their_season_and_index_say()
    {
        var series = Series((2012, 100, 90, 110), (2013, 50, 40, 60), (2014, 0, 0, 20));
        var scale = new ChartScale(series, ChartSize.Small);
        Assert.Equal(ChartSize.Small.Left, scale.X(2012));
        Assert.Equal(ChartSize.Small.Width - ChartSize.Small.Right, scale.X(2014));
        Assert.Equal((scale.X(2012) + scale.X(2014)) / 2, scale.X(2013));
        Assert.Equal(ChartSize.Small.Height - ChartSize.Small.Bottom, scale.Y(0));
        Assert.Equal((scale.Y(0) + scale.Y(100)) / 2, scale.Y(50), 1e-9);
        string line = Of(Draw(series), "line").Single().Attribute("d")!.Value;
        Assert.Equal($"M{Svg.Number(scale.X(2012))} {Svg.Number(scale.Y(100))} L{Svg.Number(scale.X(2013))} {Svg.Number(scale.Y(50))} L{Svg.Number(scale.X(2014))} {Svg.Number(scale.Y(0))}", line);
    }

    [Fact]
    public void Line_and_band_break_at_a_season_without_surveys()
    {
        var chart = Draw(Series((2012, 100, 90, 110), (2013, 95, 80, 105), (2015, 60, 50, 70), (2016, 55, 45, 65)));
        Assert.Equal(2, Of(chart, "line").Count);
        Assert.Equal(2, Of(chart, "band").Count);
    }

    [Fact]
    public void Lone_season_is_a_point_with_its_range()
    {
        var chart = Draw(Series((2012, 100, 90, 110), (2013, 95, 80, 105), (2016, 60, 50, 70)));
        Assert.Single(Of(chart, "band-lone"));
        Assert.Equal(2, Of(chart, "point").Count);
    }

    [Fact]
    public void Wild_end_of_a_range_is_cut_and_said()
    {
        var wild = new ChartScale(Series((2012, 100, 90, 110), (2013, 95, 80, 4000)), ChartSize.Small);
        Assert.True(wild.Cuts);
        Assert.True(wild.Top < 400);
        Assert.False(new ChartScale(Series((2012, 100, 90, 110), (2013, 95, 80, 105)), ChartSize.Small).Cuts);
    }

    [Fact]
    public void Every_number_in_a_picture_is_finite_and_inside_it()
    {
        var chart = Draw(Series((2012, 100, 90, 110), (2013, 0, 0, null), (2014, 250, 3, 9000)));
        foreach (var circle in Of(chart, "point"))
            Assert.InRange(double.Parse(circle.Attribute("cy")!.Value, CultureInfo.InvariantCulture), 0, ChartSize.Small.Height);
        Assert.DoesNotContain("NaN", chart.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("style=", chart.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void One_season_alone_can_be_drawn() => Assert.Single(Of(Draw(Series((2024, 100, 80, 120))), "band-lone"));

    [Fact]
    public void Name_with_markup_is_text()
    {
        var chart = IndexChart.Draw(Series((2024, 100, 80, 120)), ChartSize.Small, "<script>alert(1)</script>\"");
        Assert.DoesNotContain("<script>", chart.ToString(), StringComparison.Ordinal);
    }
}
