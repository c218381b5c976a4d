using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>A condition and what its sentences need beside it.</summary>
/// <param name="Condition">The result.</param>
/// <param name="Area">What people call the area.</param>
/// <param name="ExpectedIsGiven">Whether the programme keeps the expected list itself.</param>
/// <param name="Settings">The choices the score was made with.</param>
public sealed record ConditionTopic(Condition Condition, string Area, bool ExpectedIsGiven, ProgrammeSettings Settings);

/// <summary>
/// What a condition score says: the class with what it is compared with, the points with their range, or what is missing.
/// A class stands alone only when at least 80 % of the score draws agree on it.
/// </summary>
public static class ConditionSentences
{
    /// <summary>The share of score draws from which a class stands alone.</summary>
    public const double ClassAloneFrom = 0.8;

    /// <summary>Points of the presence part that unheard species must add before they are spoken of.</summary>
    private const double SmallestToMention = 0.5;

    /// <summary>The class in words, such as <c>fair</c> or <c>between fair and good</c>; null when nothing can be said.</summary>
    public static string? ClassWords(Condition condition) => ClassKey(condition) is { } key ? Say($"condition.class.{key}") : null;

    /// <summary>A class by its name alone.</summary>
    public static string ClassName(ConditionClass condition) => Say($"condition.class.{Key(condition)}");

    // The class's own name in the files of words.
    private static string? ClassKey(Condition condition)
    {
        if (condition is not { Score: not null, ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor })
            return null;
        if (good >= ClassAloneFrom) return "good";
        if (fair >= ClassAloneFrom) return "fair";
        if (poor >= ClassAloneFrom) return "poor";
        bool upper = fair + good >= ClassAloneFrom, lower = poor + fair >= ClassAloneFrom;
        return (upper, lower) switch
        {
            (true, _) when good >= poor => "fairToGood",
            (_, true) => "poorToFair",
            _ => "any",
        };
    }

    private static string Key(ConditionClass condition) => condition switch
    {
        ConditionClass.Good => "good",
        ConditionClass.Fair => "fair",
        _ => "poor",
    };

    /// <summary>The class for a table or a map, or that there is no score yet.</summary>
    public static string Label(Condition? condition) => condition switch
    {
        null or { Score: null } => Say("condition.noScore"),
        _ => ClassWords(condition) ?? Say("condition.noClass"),
    };

    /// <summary>The points with their range: <c>63 (55 to 71)</c>; null without both.</summary>
    public static string? Points(Condition condition) => condition is { Score: { } score, Lower: { } lower, Upper: { } upper }
        ? Say("condition.points", ("score", Whole(score)), ("lower", Whole(lower)), ("upper", Whole(upper)))
        : null;

    /// <summary>The class with its points, for a list: <c>fair, 63 of 100 points (55 to 71)</c>.</summary>
    public static string Summary(Condition? condition) =>
        condition is not null && Points(condition) is { } points && ClassWords(condition) is { } words
            ? Say("condition.summary", ("class", words), ("points", points))
            : Label(condition);

    /// <summary>What the strip of a score shows, for those who do not see it.</summary>
    public static string Strip(Condition condition) => Say("condition.strip", ("season", Phrases.Season(condition.Season)), ("summary", Summary(condition)));

    /// <summary>The answer in a plain sentence or two.</summary>
    public static string Answer(ConditionTopic topic)
    {
        var (condition, area, _, settings) = topic;
        string season = Phrases.Season(condition.Season);
        if (condition.Score is not { } score)
            return $"{Say("condition.tooLittle", ("area", area), ("season", season))} {Missing(topic)}".TrimEnd();
        if (condition is not { Lower: { } lower, Upper: { } upper } || ClassKey(condition) is not { } key)
            return Say("condition.unsure", ("area", area), ("season", season));
        bool alone = key is "good" or "fair" or "poor";
        string said = Say(
            alone ? "condition.answerOne" : "condition.answerBetween",
            ("season", season), ("area", area), ("class", Say($"condition.class.{key}")), ("score", Whole(score)),
            ("level", Phrases.Share(settings.Trend.Confidence)), ("lower", Whole(lower)), ("upper", Whole(upper)));
        return $"{said} {ComparedWith(topic)}";
    }

    /// <summary>What every class is compared with.</summary>
    public static string ComparedWith(ConditionTopic topic) =>
        Say("condition.compared", ("baseline", Baseline(topic.Settings.Baseline)));

    /// <summary>How sure the class is, and what it does not mean.</summary>
    public static string HowSure(ConditionTopic topic)
    {
        var condition = topic.Condition;
        if (condition is not { ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor, Score: not null })
            return topic.Condition.Score is null ? HowToHelp : Missing(topic);
        string shares = Phrases.Join(
            new[] { (Class: ConditionClass.Good, Share: good), (Class: ConditionClass.Fair, Share: fair), (Class: ConditionClass.Poor, Share: poor) }
                .Where(each => each.Share > 0)
                .Select((each, place) => Say(place == 0 ? "condition.drawsFirst" : "condition.drawsNext", ("share", Phrases.Chance(each.Share)), ("class", ClassName(each.Class))))
                .ToList());
        string window = Phrases.Seasons(condition.Season - topic.Settings.Score.WindowSeasons + 1, condition.Season);
        string?[] sentences =
        [
            Say("condition.draws", ("shares", shares)),
            Say("condition.window", ("span", window), ("surveys", condition.Surveys), ("wetlands", condition.Wetlands)),
            Say("condition.heard", ("heard", condition.Heard), ("expected", condition.Expected)),
            MissedCounts(condition) ? Say("condition.missed") : null,
            Say("condition.goodMeans"),
        ];
        return string.Join(' ', sentences.OfType<string>());
    }

    /// <summary>Whether a species that was not heard counts for something worth a sentence.</summary>
    private static bool MissedCounts(Condition condition) =>
        condition is { PresencePart: { } part, PresenceRawPart: { } raw } && part - raw > SmallestToMention;

    /// <summary>What would make a score possible.</summary>
    public static string HowToHelp => Say("condition.howToHelp");

    /// <summary>Where the list of expected species comes from.</summary>
    public static string ExpectedList(ConditionTopic topic) => topic.ExpectedIsGiven
        ? Say("condition.listGiven")
        : Say("condition.listHeard", ("n", topic.Settings.Score.SeasonsHeardToExpect));

    /// <summary>What a season lacks for a score, and how much is needed; empty when nothing is missing.</summary>
    public static string Missing(ConditionTopic topic)
    {
        var (condition, _, _, settings) = topic;
        var score = settings.Score;
        var sentences = new List<string>();
        if (condition.Lacks.HasFlag(ScoreLack.EarlySeason))
            sentences.Add(Say("condition.lack.early", ("n", score.WindowSeasons - 1)));
        if (condition.Lacks.HasFlag(ScoreLack.FewSeasons))
            sentences.Add(Say("condition.lack.seasons", ("needed", score.MinimumSeasons), ("window", score.WindowSeasons), ("there", condition.SeasonsInWindow)));
        // Too few are surveyed, or enough are, but too few of them heard anything.
        if (condition.Lacks.HasFlag(ScoreLack.FewWetlands))
            sentences.Add(condition.Wetlands < score.MinimumWetlands
                ? Say("condition.lack.wetlands", ("needed", score.MinimumWetlands), ("there", condition.Wetlands))
                : Say("condition.lack.wetlandsHeard", ("needed", settings.Trend.MinimumClusters)));
        if (condition.Lacks.HasFlag(ScoreLack.FewExpectedSpecies))
            sentences.Add(Say("condition.lack.expected", ("needed", score.MinimumExpectedSpecies), ("there", condition.Expected)));
        if (condition.Lacks.HasFlag(ScoreLack.NoCallingIndex))
            sentences.Add(Say("condition.lack.calling"));
        if (condition.Lacks.HasFlag(ScoreLack.NoSlopes))
            sentences.Add(Say("condition.lack.slopes"));
        if (condition.Lacks.HasFlag(ScoreLack.LittleHeard))
            sentences.Add(Say("condition.lack.little"));
        if (sentences.Count == 0 && condition.Score is not null)
            sentences.Add(Say("condition.lack.range"));
        return string.Join(' ', sentences);
    }

    /// <summary>The seasons everything is compared with, inside a sentence.</summary>
    public static string Baseline(BaselineOptions baseline) => baseline.Seasons is { Count: > 0 } seasons
        ? Say("condition.baselineNamed", ("seasons", Phrases.Join(seasons.Order().Select(Phrases.Season).ToList())))
        : Say("condition.baselineFirst", ("n", baseline.FirstSeasons));

    /// <summary>A part of the score by name.</summary>
    public static string PartName(ScorePart part) => Say($"condition.part.{Key(part)}");

    /// <summary>What a part asks.</summary>
    public static string PartMeaning(ScorePart part) => Say($"condition.asks.{Key(part)}");

    /// <summary>The line that keeps the calling part at 100 when there is more calling than in the baseline seasons.</summary>
    public static string HeldAtHundred => Say("condition.heldAtHundred");

    private static string Key(ScorePart part) => part switch
    {
        ScorePart.Presence => "presence",
        ScorePart.Sensitivity => "sensitivity",
        ScorePart.Calling => "calling",
        _ => "direction",
    };

    private static string Whole(double points) => Phrases.Number(points, "0");
}
