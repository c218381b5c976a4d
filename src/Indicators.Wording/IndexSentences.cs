using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>What an index and its chart say, and why a season has none.</summary>
public static class IndexSentences
{
    /// <summary>A value of the index with its range, for a table: <c>61 (50 to 75)</c>.</summary>
    public static string Value(double? index, double? lower, double? upper) => (index, lower, upper) switch
    {
        (null, _, _) => "none",
        ({ } i, { } l, { } u) => $"{Number(i)} ({Number(l)} to {Number(u)})",
        ({ } i, { } l, null) => $"{Number(i)} ({Number(l)} or more)",
        ({ } i, null, { } u) => $"{Number(i)} ({Number(u)} or less)",
        ({ } i, null, null) => $"{Number(i)} (range not known)",
    };

    /// <summary>The last value of all species together, in a sentence; null when there is none with a range.</summary>
    public static string? Together(IReadOnlyList<GroupIndexPoint> points, TrendOptions options)
    {
        if (points.LastOrDefault(point => point.Index is not null) is not { Index: { } index, Lower: { } lower, Upper: { } upper } last)
            return null;
        return $"All species put together, calling in {Phrases.Season(last.Season)} stood at {Number(index)} " +
            $"({Phrases.Share(options.Confidence)} range: {Number(lower)} to {Number(upper)}). " +
            $"In the baseline seasons it was 100. This rests on {Phrases.Count(last.Species, "species", "species")}.";
    }

    /// <summary>What a chart shows, for those who do not see it.</summary>
    public static string Alternative(string species, string area, int firstSeason, int lastSeason, string lastValue) =>
        $"Line chart of the calling of {species} in {area}, {Phrases.Seasons(firstSeason, lastSeason)}, with 100 for the baseline seasons. " +
        $"In {Phrases.Season(lastSeason)}: {lastValue}.";

    /// <summary>What a chart of dots alone shows, for those who do not see it.</summary>
    public static string DotsAlternative(string species, string area, int firstSeason, int lastSeason) =>
        $"Dots for the mean call level of {species} in {area}, {Phrases.Seasons(firstSeason, lastSeason)}, with 100 for the baseline seasons.";

    /// <summary>Why a chart has dots and no line.</summary>
    public const string DotsOnly = "There are dots but no line, as we can't say yet how sure a line would be.";

    /// <summary>What stands in a table in place of an index without a range.</summary>
    public const string NoRange = "none: no range yet";

    /// <summary>How to read a chart of one species.</summary>
    public static string Legend(TrendOptions options) =>
        $"{GroupLegend(options)} Dots: mean call level of a survey, drawn so that the baseline seasons average 100.";

    /// <summary>How to read a chart of all species together.</summary>
    public static string GroupLegend(TrendOptions options) =>
        $"Line: calling set beside the baseline seasons, which are 100. Band: {Phrases.Share(options.Confidence)} range.";

    /// <summary>That some of the band runs off the chart.</summary>
    public const string Clipped = "The band runs off the top in some seasons. The table has the numbers.";

    /// <summary>Why there is no chart at all.</summary>
    public static string NoIndex(IReadOnlyList<IndexPoint> points) =>
        points.Count == 0
            ? "There is no chart, as it was not heard here on a survey in its calling season."
            : "There is no chart, as we did not hear it in the baseline seasons. So there is nothing to compare with.";

    /// <summary>Why there is no chart of all species together.</summary>
    public const string NoGroup = "There is no chart yet, as we can't say how sure its line would be.";

    /// <summary>A mean call level, 0 to 3, for a table.</summary>
    public static string CallLevel(double mean) => mean.ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>Why one season has no index, for a table's cell.</summary>
    public static string Status(IndexStatus status) => status switch
    {
        IndexStatus.SilentBaseline => "none: not heard in the baseline seasons",
        IndexStatus.NotLinked => "none: no station links it to the baseline",
        _ => "",
    };

    /// <summary>One value of an index in whole numbers: never 0 for a little, never a string of digits for a lot.</summary>
    public static string Number(double index) => index switch
    {
        > 0 and < 0.5 => "under 1",
        >= 9999.5 => "over 9,999",
        _ => index.ToString("#,0", CultureInfo.InvariantCulture),
    };
}
