using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>What many results say together.</summary>
public static class OverviewSentences
{
    /// <summary>How many species go which way in an area.</summary>
    public static string SpeciesDirections(IReadOnlyCollection<Trend> trends, string area) =>
        trends.Count == 0
            ? $"There are no results for {area} yet."
            : Beneath(trends)
                ? $"In {area}: {Counted(trends, "species", "species")}"
                : $"{Phrases.Capital(TrendSentences.OverTheseSeasons)} in {area}: {Counted(trends, "species", "species")}";

    /// <summary>The same for a list: <c>2 going down, 1 holding steady, 4 can't tell yet</c>.</summary>
    public static string ShortDirections(IReadOnlyCollection<Trend> trends)
    {
        Direction[] order = [Direction.Down, Direction.Up, Direction.Steady, Direction.Unclear];
        var parts = trends.Where(trend => trend.Status != TrendStatus.NeverHeard)
            .CountBy(trend => trend.Direction).OrderBy(each => Array.IndexOf(order, each.Key))
            .Select(each => $"{Phrases.Count(each.Value)} {TrendSentences.Label(each.Key)}").ToList();
        return parts.Count == 0 ? "No species heard yet" : $"Species{(Beneath(trends) ? "" : " " + TrendSentences.OverTheseSeasons)}: {string.Join(", ", parts)}";
    }

    /// <summary>How many species are listened for.</summary>
    public static string SpeciesListed(int species) => $"We listen for {Phrases.Count(species, "species", "species")}.";

    /// <summary>What stands in the table of all watersheds.</summary>
    public static string ConditionCaption(int season, BaselineOptions baseline) =>
        $"Condition in {Phrases.Season(season)}, set beside {ConditionSentences.Baseline(baseline)} and the species we expect.";

    /// <summary>How to read the map.</summary>
    public static string MapLegend(int season) =>
        $"The colours stand for points of condition in {Phrases.Season(season)}. Stripes mean no score yet.";

    /// <summary>What one step of the map's colour stands for.</summary>
    /// <param name="steps">Where the steps begin, in points.</param>
    /// <param name="step">Which one, from 0.</param>
    public static string Step(IReadOnlyList<double> steps, int step)
    {
        string from = steps[step].ToString("0.#", CultureInfo.InvariantCulture);
        return step + 1 < steps.Count
            ? $"{from} to under {steps[step + 1].ToString("0.#", CultureInfo.InvariantCulture)}"
            : $"{from} to 100";
    }

    /// <summary>That a list goes on elsewhere.</summary>
    public static string More(int more) => $"{Phrases.Count(more, "more is", "more are")} on the pages of the watersheds.";

    /// <summary>What the list of falling results is about.</summary>
    public const string NeedsALook = "Here we have heard less and less calling. The numbers are for each season, with their range.";

    /// <summary>What good, fair and poor are measured by.</summary>
    public static string ClassMeaning(ProgrammeSettings settings) =>
        $"We set each watershed beside {ConditionSentences.Baseline(settings.Baseline)} and the species we expect there. " +
        $"Good starts at {settings.Score.GoodFrom.ToString("0.#", CultureInfo.InvariantCulture)} points and fair at {settings.Score.FairFrom.ToString("0.#", CultureInfo.InvariantCulture)}.";

    /// <summary>In how many areas a species goes which way.</summary>
    public static string AreaDirections(IReadOnlyCollection<Trend> trends, string species) =>
        trends.Count == 0
            ? $"There are no results for {species} yet."
            : Beneath(trends)
                ? Phrases.Capital(Counted(trends, "area", "areas"))
                : $"{Phrases.Capital(TrendSentences.OverTheseSeasons)}: {Counted(trends, "area", "areas")}";

    /// <summary>How many of these words chance alone would make.</summary>
    public static string Chance(IReadOnlyCollection<Trend> trends, TrendOptions options)
    {
        int words = trends.Count(TrendSentences.HasInterval);
        if (words == 0)
            return "No result here has a range yet, so none has a direction.";
        double share = 1 - options.Confidence;
        string oneIn = Math.Round(1 / share).ToString("0", CultureInfo.InvariantCulture);
        int expected = (int)Math.Ceiling(words * share);
        return $"We give {Phrases.Count(words, "result", "results")} here a range. " +
            $"If nothing had changed, 1 in {oneIn} would still say up or down by luck: {expected} or so. " +
            "So do not lean on one word alone.";
    }

    /// <summary>What the directions do and do not say.</summary>
    public static string DirectionMeaning(IReadOnlyCollection<Trend> trends) => Beneath(trends) ? BeneathMeaning : OverTheseSeasonsMeaning;

    private const string BeneathMeaning =
        "A good or bad spring can lift or sink all wetlands at once. Our directions allow for that. " +
        "They don't allow for runs of such springs, and they do not say what comes next.";

    private const string OverTheseSeasonsMeaning =
        "Over these seasons means just that. A run of good or bad springs can lift or sink all wetlands at once. " +
        "So we do not say what comes next.";

    /// <summary>What all figures measure.</summary>
    public const string CallingNotCounting = "We tell how much calling we heard. It is not a count of frogs.";

    /// <summary>Whether every direction among these allows for good and bad springs.</summary>
    private static bool Beneath(IReadOnlyCollection<Trend> trends) =>
        trends.All(t => t.Direction == Direction.Unclear || TrendSentences.LooksBeneath(t));

    private static string Counted(IReadOnlyCollection<Trend> trends, string one, string many)
    {
        (Direction Direction, int Number)[] told =
        [
            (Direction.Down, trends.Count(t => t.Direction == Direction.Down)),
            (Direction.Up, trends.Count(t => t.Direction == Direction.Up)),
            (Direction.Steady, trends.Count(t => t.Direction == Direction.Steady)),
        ];
        var parts = told.Where(each => each.Number > 0)
            .Select((each, place) => $"{(place == 0 ? Phrases.Count(each.Number, one, many) : Phrases.Count(each.Number))} {TrendSentences.Label(each.Direction)}")
            .ToList();
        int silent = trends.Count(t => t.Status == TrendStatus.NeverHeard);
        int unclear = trends.Count(t => t.Direction == Direction.Unclear) - silent;
        string said = parts.Count == 0 ? "nothing has a direction yet." : $"{Phrases.Join(parts)}.";
        if (unclear > 0)
            said += $" For {Phrases.Count(unclear)} we can't tell yet.";
        return silent == 0 ? said : $"{said} {Phrases.Count(silent)} {(silent == 1 ? "has" : "have")} not been heard yet.";
    }
}
