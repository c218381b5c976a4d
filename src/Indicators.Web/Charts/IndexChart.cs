using System.Globalization;
using System.Xml.Linq;
using Indicators.Wording;

namespace Indicators.Web.Charts;

/// <summary>
/// Draws an index or a share over the seasons: band, line, raw dots, smooth course, a line at 100 and the last value at the line's end. The line
/// and the band break where a season was not surveyed.
/// </summary>
internal static class IndexChart
{
    public static XElement Draw(ChartSeries series, ChartSize size, string label)
    {
        var scale = new ChartScale(series, size);
        return Svg.Picture(
            size.Width, size.Height, $"chart-{size.Name}", label,
            Grid(scale),
            Runs(series.Points.Where(point => point is { Lower: not null, Upper: not null })).Select(run => Band(run, scale)),
            series.Points.Where(point => point.Dot is not null).Select(point => Svg.Circle("raw", scale.X(point.Season), scale.Y(point.Dot!.Value), 2.6)),
            Runs(series.Points.Where(point => point.Smooth is not null)).Select(run => Course(run, scale)),
            Runs(series.Points.Where(point => point.Index is not null)).Select(run => Line(run, scale)),
            End(series, scale));
    }

    private static IEnumerable<XElement> Grid(ChartScale scale)
    {
        var size = scale.Size;
        foreach (double index in scale.IndexTicks())
        {
            yield return Across("grid", index);
            yield return Label("tick", index);
        }
        if (scale.HasBaseline)
            yield return Across("baseline", ChartScale.Baseline);
        if (scale.HasBaseline && scale.HasRoomForBaselineLabel)
            yield return Label("tick strong", ChartScale.Baseline);
        foreach (int season in scale.SeasonTicks())
            yield return Svg.Text("tick", scale.X(season), size.Height - 8, "middle", Phrases.Season(season));

        XElement Across(string cssClass, double index) => Svg.Line(cssClass, size.Left, scale.Y(index), size.Width - size.Right, scale.Y(index));

        XElement Label(string cssClass, double index) =>
            Svg.Text(cssClass, size.Left - 7, scale.Y(index) + 4, "end", index.ToString("0", CultureInfo.InvariantCulture));
    }

    private static XElement Band(IReadOnlyList<ChartPoint> run, ChartScale scale)
    {
        if (run.Count == 1)
        {
            double x = scale.X(run[0].Season);
            return Svg.Line("band-lone", x, scale.Y(run[0].Lower!.Value), x, scale.Y(run[0].Upper!.Value));
        }
        var above = run.Select(point => (scale.X(point.Season), scale.Y(point.Upper!.Value)));
        var below = run.Reverse().Select(point => (scale.X(point.Season), scale.Y(point.Lower!.Value)));
        return Svg.Path("band", Svg.Points(above.Concat(below)) + " Z");
    }

    private static XElement Line(IReadOnlyList<ChartPoint> run, ChartScale scale) => run.Count == 1
        ? Svg.Circle("point", scale.X(run[0].Season), scale.Y(run[0].Index!.Value), 3)
        : Svg.Path("line", Svg.Points(run.Select(point => (scale.X(point.Season), scale.Y(point.Index!.Value)))));

    private static XElement Course(IReadOnlyList<ChartPoint> run, ChartScale scale) =>
        Svg.Path("smooth", Svg.Points(run.Select(point => (scale.X(point.Season), scale.Y(point.Smooth!.Value)))));

    private static IEnumerable<XElement> End(ChartSeries series, ChartScale scale)
    {
        if (series.Last is not { Index: { } index } last)
            yield break;
        double x = scale.X(last.Season), y = scale.Y(index);
        yield return Svg.Circle("point", x, y, 3.4);
        yield return Svg.Text("end", x + 8, y + 4, "start", series.End);
    }

    // Seasons without a gap between them.
    private static IEnumerable<IReadOnlyList<ChartPoint>> Runs(IEnumerable<ChartPoint> points)
    {
        var run = new List<ChartPoint>();
        foreach (var point in points)
        {
            if (run.Count > 0 && point.Season != run[^1].Season + 1)
            {
                yield return run;
                run = [];
            }
            run.Add(point);
        }
        if (run.Count > 0)
            yield return run;
    }
}
