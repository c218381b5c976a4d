using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What many results say together.</summary>
public static class OverviewSentences
{
    /// <summary>How many species go which way in an area.</summary>
    public static string SpeciesDirections(IReadOnlyCollection<Trend> trends, string area) =>
        trends.Count == 0
            ? Say("overview.none", ("name", area))
            : Say(Beneath(trends) ? "overview.species" : "overview.speciesOver", ("area", area), ("counted", Counted(trends, "species")));

    /// <summary>The same for a list: <c>2 going down, 1 holding steady, 4 can't tell yet</c>.</summary>
    public static string ShortDirections(IReadOnlyCollection<Trend> trends)
    {
        Direction[] order = [Direction.Down, Direction.Up, Direction.Steady, Direction.Unclear];
        var parts = trends.Where(trend => trend.Status != TrendStatus.NeverHeard)
            .CountBy(trend => trend.Direction).OrderBy(each => Array.IndexOf(order, each.Key))
            .Select(each => Say($"overview.next.{Key(each.Key)}", ("n", each.Value))).ToList();
        return parts.Count == 0
            ? Say("overview.shortNone")
            : Say(Beneath(trends) ? "overview.short" : "overview.shortOver", ("parts", parts.Aggregate((said, next) => Say("phrase.listNext", ("items", said), ("next", next)))));
    }

    /// <summary>How many species are listened for.</summary>
    public static string SpeciesListed(int species) => Say("overview.listed", ("n", species));

    /// <summary>What stands in the table of all watersheds.</summary>
    public static string ConditionCaption(int season, BaselineOptions baseline) =>
        Say("overview.caption", ("season", Phrases.Season(season)), ("baseline", ConditionSentences.Baseline(baseline)));

    /// <summary>How to read the map.</summary>
    public static string MapLegend(int season) =>
        Say("overview.mapLegend", ("season", Phrases.Season(season)));

    /// <summary>What one step of the map's colour stands for.</summary>
    /// <param name="steps">Where the steps begin, in points.</param>
    /// <param name="step">Which one, from 0.</param>
    public static string Step(IReadOnlyList<double> steps, int step)
    {
        string from = Phrases.Number(steps[step], "0.#");
        return step + 1 < steps.Count
            ? Say("overview.step", ("from", from), ("to", Phrases.Number(steps[step + 1], "0.#")))
            : Say("overview.stepLast", ("from", from));
    }

    /// <summary>That a list goes on elsewhere.</summary>
    public static string More(int more) => Say("overview.more", ("n", more));

    /// <summary>What the list of falling results is about.</summary>
    public static string NeedsALook => Say("overview.needsALook");

    /// <summary>What good, fair and poor are measured by.</summary>
    public static string ClassMeaning(ProgrammeSettings settings) =>
        Say(
            "overview.classMeaning", ("baseline", ConditionSentences.Baseline(settings.Baseline)),
            ("good", Phrases.Number(settings.Score.GoodFrom, "0.#")), ("fair", Phrases.Number(settings.Score.FairFrom, "0.#")));

    /// <summary>In how many areas a species goes which way.</summary>
    public static string AreaDirections(IReadOnlyCollection<Trend> trends, string species) =>
        trends.Count == 0
            ? Say("overview.none", ("name", species))
            : Phrases.Capital(Say(Beneath(trends) ? "overview.areas" : "overview.areasOver", ("counted", Counted(trends, "areas"))));

    /// <summary>A species and where, to stand before its change in a list.</summary>
    public static string SpeciesIn(string species, string area) => Phrases.Capital(Say("overview.speciesIn", ("species", species), ("area", area)));

    /// <summary>How many of these words chance alone would make.</summary>
    public static string Chance(IReadOnlyCollection<Trend> trends, TrendOptions options)
    {
        int words = trends.Count(TrendSentences.HasInterval);
        if (words == 0)
            return Say("overview.noRange");
        double share = 1 - options.Confidence;
        return Say(
            "overview.chance", ("n", words), ("oneIn", Phrases.Number(Math.Round(1 / share), "0")),
            // A little more than words × 0.05 as doubles go, so never rounded up: 20 results are 1 by luck, not 2.
            ("expected", (int)Math.Round(words * share, MidpointRounding.AwayFromZero)));
    }

    /// <summary>What the directions do and do not say.</summary>
    public static string DirectionMeaning(IReadOnlyCollection<Trend> trends) => Say(Beneath(trends) ? "overview.beneath" : "overview.overTheseSeasons");

    /// <summary>What all figures measure.</summary>
    public static string CallingNotCounting => Say("overview.callingNotCounting");

    /// <summary>Whether every direction among these allows for good and bad springs.</summary>
    private static bool Beneath(IReadOnlyCollection<Trend> trends) =>
        trends.All(t => t.Direction == Direction.Unclear || TrendSentences.LooksBeneath(t));

    private static string Counted(IReadOnlyCollection<Trend> trends, string of)
    {
        (Direction Direction, int Number)[] told =
        [
            (Direction.Down, trends.Count(t => t.Direction == Direction.Down)),
            (Direction.Up, trends.Count(t => t.Direction == Direction.Up)),
            (Direction.Steady, trends.Count(t => t.Direction == Direction.Steady)),
        ];
        var parts = told.Where(each => each.Number > 0)
            .Select((each, place) => Say(place == 0 ? $"overview.first.{of}{Phrases.Capital(Key(each.Direction))}" : $"overview.next.{Key(each.Direction)}", ("n", each.Number)))
            .ToList();
        int silent = trends.Count(t => t.Status == TrendStatus.NeverHeard);
        int unclear = trends.Count(t => t.Direction == Direction.Unclear) - silent;
        string?[] said =
        [
            parts.Count == 0 ? Say("overview.nothing") : Say("overview.told", ("parts", Phrases.Join(parts))),
            unclear > 0 ? Say("overview.unclear", ("n", unclear)) : null,
            silent > 0 ? Say("overview.silent", ("n", silent)) : null,
        ];
        return string.Join(' ', said.OfType<string>());
    }

    private static string Key(Direction direction) => direction switch
    {
        Direction.Down => "down",
        Direction.Up => "up",
        Direction.Steady => "steady",
        _ => "unclear",
    };
}
