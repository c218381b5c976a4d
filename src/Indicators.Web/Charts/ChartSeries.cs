using Indicators.Analysis.Results;
using Indicators.Wording;

namespace Indicators.Web.Charts;

/// <summary>One season of a chart: the value with its interval, the raw dot and the smooth course on the same scale.</summary>
internal sealed record ChartPoint(int Season, double? Index, double? Lower, double? Upper, double? Dot, double? Smooth = null);

/// <summary>What a chart draws, season by season.</summary>
internal sealed record ChartSeries(IReadOnlyList<ChartPoint> Points)
{
    /// <summary>Whether any season has an interval. Without one no line is drawn: no number without its range.</summary>
    public bool HasBand => Points.Any(point => point is { Lower: not null, Upper: not null });

    public bool HasDots => Points.Any(point => point.Dot is not null);

    /// <summary>The dots alone.</summary>
    public ChartSeries WithoutLine() =>
        this with { Points = [.. Points.Select(point => point with { Index = null, Lower = null, Upper = null, Smooth = null })] };

    /// <summary>Whether the values are percent, 0 to 100, and not an index with a baseline.</summary>
    public bool IsShare { get; init; }

    public bool HasSmooth => Points.Any(point => point.Smooth is not null);

    public int FirstSeason => Points[0].Season;

    public int LastSeason => Points[^1].Season;

    public ChartPoint? Last => Points.LastOrDefault(point => point.Index is not null);

    /// <summary>The last value as it stands at the line's end; empty without a line.</summary>
    public string End => Last is { Index: { } last } ? IsShare ? Phrases.Share(last / 100) : IndexSentences.Number(last) : "";

    /// <summary>One species' index. Dots are mean call levels, scaled so that the baseline seasons average 100.</summary>
    public static ChartSeries Of(IReadOnlyList<IndexPoint> points, IEnumerable<SmoothPoint>? smooth = null)
    {
        var courses = smooth?.ToDictionary(point => point.Season, point => point.Value);
        var baseline = points.Where(point => point.InBaseline).Select(point => point.MeanCallLevel).DefaultIfEmpty().Average();
        return new ChartSeries([.. points.Select(point => new ChartPoint(
            point.Season, point.Index, point.Lower, point.Upper,
            baseline > 0 ? 100 * point.MeanCallLevel / baseline : null,
            courses is not null && courses.TryGetValue(point.Season, out double course) ? course : null))]);
    }

    /// <summary>Occupancy in percent, where it has a range; dots are the shares of wetlands that were heard.</summary>
    public static ChartSeries Of(IReadOnlyList<OccupancyPoint> points) => new([.. points.Select(point =>
        new ChartPoint(point.Season, point.Lower is null ? null : 100 * point.Psi, 100 * point.Lower, 100 * point.Upper, 100 * point.RawShare))]) { IsShare = true };

    /// <summary>All species together, where they have a range; no dots.</summary>
    public static ChartSeries Of(IReadOnlyList<GroupIndexPoint> points) =>
        new([.. points.Select(point => new ChartPoint(point.Season, point.Lower is null ? null : point.Index, point.Lower, point.Upper, null))]);
}
