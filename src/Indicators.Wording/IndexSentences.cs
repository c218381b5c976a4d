using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What an index and its chart say, and why a season has none.</summary>
public static class IndexSentences
{
    /// <summary>A value of the index with its range, for a table: <c>61 (50 to 75)</c>.</summary>
    public static string Value(double? index, double? lower, double? upper) => (index, lower, upper) switch
    {
        (null, _, _) => Say("index.none"),
        ({ } i, { } l, { } u) => Say("index.value", ("index", Number(i)), ("lower", Number(l)), ("upper", Number(u))),
        ({ } i, { } l, null) => Say("index.orMore", ("index", Number(i)), ("lower", Number(l))),
        ({ } i, null, { } u) => Say("index.orLess", ("index", Number(i)), ("upper", Number(u))),
        ({ } i, null, null) => Say("index.rangeUnknown", ("index", Number(i))),
    };

    /// <summary>The last value of all species together, in a sentence; null when there is none with a range.</summary>
    public static string? Together(IReadOnlyList<GroupIndexPoint> points, TrendOptions options)
    {
        if (points.LastOrDefault(point => point.Index is not null) is not { Index: { } index, Lower: { } lower, Upper: { } upper } last)
            return null;
        return Say(
            "index.together", ("season", Phrases.Season(last.Season)), ("index", Number(index)), ("level", Phrases.Share(options.Confidence)),
            ("lower", Number(lower)), ("upper", Number(upper)), ("n", last.Species));
    }

    /// <summary>What a chart shows, for those who do not see it: its end, and the direction that the sentence beside it tells.</summary>
    /// <param name="species">The species, inside a sentence.</param>
    /// <param name="area">What people call the area.</param>
    /// <param name="firstSeason">Where the chart begins.</param>
    /// <param name="lastSeason">Where its line ends.</param>
    /// <param name="lastValue">The index there, in words.</param>
    /// <param name="trend">The trend; null for species put together.</param>
    public static string Alternative(string species, string area, int firstSeason, int lastSeason, string lastValue, Trend? trend) =>
        Say(
            trend is null ? "index.groupAlternative" : "index.alternative",
            ("species", species), ("area", area), ("span", Phrases.Seasons(firstSeason, lastSeason)),
            ("season", Phrases.Season(lastSeason)), ("value", lastValue), ("direction", trend is null ? "" : TrendSentences.Label(trend)));

    /// <summary>What a chart of dots alone shows, for those who do not see it.</summary>
    public static string DotsAlternative(string species, string area, int firstSeason, int lastSeason, Trend trend) =>
        Say("index.dotsAlternative", ("species", species), ("area", area), ("span", Phrases.Seasons(firstSeason, lastSeason)), ("direction", TrendSentences.Label(trend)));

    /// <summary>Why a chart has dots and no line.</summary>
    public static string DotsOnly => Say("index.dotsOnly");

    /// <summary>What stands in a table in place of an index without a range.</summary>
    public static string NoRange => Say("index.noRange");

    /// <summary>How to read a chart of one species.</summary>
    public static string Legend(TrendOptions options) =>
        $"{GroupLegend(options)} {Say("index.legend")}";

    /// <summary>How to read a chart of all species together.</summary>
    public static string GroupLegend(TrendOptions options) =>
        Say("index.groupLegend", ("level", Phrases.Share(options.Confidence)));

    /// <summary>That some of the band runs off the chart.</summary>
    public static string Clipped => Say("index.clipped");

    /// <summary>Why there is no chart at all.</summary>
    public static string NoIndex(IReadOnlyList<IndexPoint> points) =>
        Say(points.Count == 0 ? "index.notHeard" : "index.nothingToCompare");

    /// <summary>Why there is no chart of all species together.</summary>
    public static string NoGroup(bool anyHeard) => Say(anyHeard ? "index.noGroup" : "index.noGroupHeard");

    /// <summary>A mean call level, 0 to 3, for a table.</summary>
    public static string CallLevel(double? mean) => mean is { } told ? Phrases.Number(told, "0.00") : ChorusSentences.KeptBack;

    /// <summary>One season's value, for whoever points at it.</summary>
    public static string Tip(int season, string value) => Say("index.tip", ("season", Phrases.Season(season)), ("value", value));

    /// <summary>Why one season has no index, for a table's cell.</summary>
    public static string Status(IndexStatus status) => status switch
    {
        IndexStatus.SilentBaseline => Say("index.silentBaseline"),
        IndexStatus.NotLinked => Say("index.notLinked"),
        _ => "",
    };

    /// <summary>One value of an index in whole numbers: never 0 for a little, never a string of digits for a lot.</summary>
    public static string Number(double index) => index switch
    {
        > 0 and < 0.5 => Say("index.under1"),
        >= 9999.5 => Say("index.over9999"),
        _ => Phrases.Number(index, "#,0"),
    };
}
