using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>In how many wetlands a species was heard, and in how many it may be.</summary>
public static class OccupiedSentences
{
    /// <summary>The heading.</summary>
    public static string Heading => Say("occupied.heading");

    /// <summary>The heading of a chart of one area.</summary>
    public static string ChartHeading(string area) => Say("occupied.chartHeading", ("area", area));

    /// <summary>What the table holds.</summary>
    public static string Caption(int season) => Say("occupied.caption", ("season", Phrases.Season(season)));

    /// <summary>The columns of numbers.</summary>
    public static IReadOnlyList<string> Columns => [Say("occupied.heard"), Say("occupied.share"), Say("occupied.estimate")];

    /// <summary>A column.</summary>
    public static string Season => Say("occupied.season");

    /// <summary>What the two shares say and do not say.</summary>
    public static string Meaning => Say("occupied.meaning");

    /// <summary>How to read the chart.</summary>
    /// <param name="confidence">Of the range.</param>
    /// <param name="dots">Whether the shares that heard it are shown; those of a protected species are kept back.</param>
    public static string Legend(double confidence, bool dots) => Say(dots ? "occupied.legend" : "occupied.legendBare", ("level", Phrases.Share(confidence)));

    /// <summary>What the chart shows, for those who do not see it.</summary>
    public static string Picture(string species, string area, IReadOnlyList<OccupancyPoint> points) => Say(
        "occupied.picture", ("species", species), ("area", area), ("span", Phrases.Seasons(points[0].Season, points[^1].Season)),
        ("season", Phrases.Season(points[^1].Season)), ("value", Estimate(points[^1])));

    /// <summary>The cells of one season; a protected species keeps its own back.</summary>
    public static IReadOnlyList<string> Cells(OccupancyPoint point) =>
    [
        point.WetlandsHeard is { } heard ? ChorusSentences.OfWetlands(heard, point.Wetlands) : ChorusSentences.KeptBack,
        point.RawShare is { } share ? Phrases.Share(share) : ChorusSentences.KeptBack,
        Estimate(point),
    ];

    /// <summary>
    /// The estimate with its range. One without a range lies where the surveys hardly tell missed from absent (a species heard once may be anywhere), so it is
    /// not told; the tables have it.
    /// </summary>
    public static string Estimate(OccupancyPoint point) => point switch
    {
        { Psi: null } => Say("occupied.none"),
        { Psi: { } psi, Lower: { } lower, Upper: { } upper } => Say(
            "occupied.range", ("share", Phrases.Share(psi)), ("lower", Phrases.Share(lower)), ("upper", Phrases.Share(upper))),
        _ => Say("occupied.noRange"),
    };
}
