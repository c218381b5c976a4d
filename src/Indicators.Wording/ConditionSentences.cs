using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;

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
    public static string? ClassWords(Condition condition)
    {
        if (condition is not { Score: not null, ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor })
            return null;
        if (good >= ClassAloneFrom) return "good";
        if (fair >= ClassAloneFrom) return "fair";
        if (poor >= ClassAloneFrom) return "poor";
        bool upper = fair + good >= ClassAloneFrom, lower = poor + fair >= ClassAloneFrom;
        return (upper, lower) switch
        {
            (true, _) when good >= poor => "between fair and good",
            (_, true) => "between poor and fair",
            _ => "anywhere from poor to good",
        };
    }

    /// <summary>The class for a table or a map, or that there is no score yet.</summary>
    public static string Label(Condition? condition) => condition switch
    {
        null => "no score yet",
        { Score: null } => "no score yet",
        _ => ClassWords(condition) ?? "no class yet",
    };

    /// <summary>The points with their range: <c>63 (55 to 71)</c>; null without both.</summary>
    public static string? Points(Condition condition) => condition is { Score: { } score, Lower: { } lower, Upper: { } upper }
        ? $"{Whole(score)} ({Whole(lower)} to {Whole(upper)})"
        : null;

    /// <summary>The class with its points, for a list: <c>fair, 63 of 100 points (55 to 71)</c>.</summary>
    public static string Summary(Condition? condition) =>
        condition is not null && Points(condition) is { } points && ClassWords(condition) is { } words
            ? $"{words}, {points} of 100 points"
            : Label(condition);

    /// <summary>What the strip of a score shows, for those who do not see it.</summary>
    public static string Strip(Condition condition) => $"Condition in {Phrases.Season(condition.Season)}: {Summary(condition)}.";

    /// <summary>The answer in a plain sentence or two.</summary>
    public static string Answer(ConditionTopic topic)
    {
        var (condition, area, _, settings) = topic;
        string season = Phrases.Season(condition.Season);
        if (condition.Score is not { } score)
            return $"There is not enough listening in {area} yet for a score in {season}. {Missing(topic)}".TrimEnd();
        if (condition is not { Lower: { } lower, Upper: { } upper } || ClassWords(condition) is not { } words)
            return $"We can't tell yet how {area} was doing in {season}, as we can't say how sure the score would be.";
        string points = $"{Whole(score)} of 100 points ({Phrases.Share(settings.Trend.Confidence)} range: {Whole(lower)} to {Whole(upper)})";
        string opening = words.Contains(' ', StringComparison.Ordinal)
            ? $"In {season} the condition of {area} was {words}"
            : $"In {season} {area} was in {words} condition";
        return $"{opening}. It got {points}. {ComparedWith(topic)}";
    }

    /// <summary>What every class is compared with.</summary>
    public static string ComparedWith(ConditionTopic topic) =>
        $"We compare it with {Baseline(topic.Settings.Baseline)} and with the frogs and toads we expect there.";

    /// <summary>How sure the class is, and what it does not mean.</summary>
    public static string HowSure(ConditionTopic topic)
    {
        var condition = topic.Condition;
        if (condition is not { ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor, Score: not null })
            return topic.Condition.Score is null ? HowToHelp : Missing(topic);
        string shares = Phrases.Join(
            new[] { ("good", good), ("fair", fair), ("poor", poor) }
                .Where(each => each.Item2 > 0)
                .Select((each, place) => $"{Phrases.Share(each.Item2)}{(place == 0 ? " came out" : "")} {each.Item1}")
                .ToList());
        string window = Phrases.Seasons(condition.Season - topic.Settings.Score.WindowSeasons + 1, condition.Season);
        return $"We drew the wetlands again many times. Of these draws {shares}. " +
            $"The score looks at {window}: {Phrases.Count(condition.Surveys, "survey", "surveys")} in {Phrases.Count(condition.Wetlands, "wetland", "wetlands")}. " +
            $"We heard {Phrases.Count(condition.Heard)} of the {Phrases.Count(condition.Expected, "species", "species")} we expect. " +
            Missed(condition) +
            "Good means close to how listening began. It does not have to mean healthy.";
    }

    /// <summary>Said where a species that was not heard counts for something; with the space after it, or empty.</summary>
    private static string Missed(Condition condition) =>
        condition is { PresencePart: { } part, PresenceRawPart: { } raw } && part - raw > SmallestToMention
            ? "A frog or toad heard in earlier years may still be there unheard. It counts by the chance that it is. "
            : "";

    /// <summary>What would make a score possible.</summary>
    public const string HowToHelp = "Each night of listening helps, most of all at a wetland where nobody has listened yet.";

    /// <summary>Where the list of expected species comes from.</summary>
    public static string ExpectedList(ConditionTopic topic) => topic.ExpectedIsGiven
        ? "The programme wrote the list of frogs and toads to expect."
        : $"The list of frogs and toads to expect is made of those heard nearby in {Phrases.Count(topic.Settings.Score.SeasonsHeardToExpect)} or more seasons.";

    /// <summary>What a season lacks for a score, and how much is needed; empty when nothing is missing.</summary>
    public static string Missing(ConditionTopic topic)
    {
        var (condition, _, _, settings) = topic;
        var score = settings.Score;
        var sentences = new List<string>();
        if (condition.Lacks.HasFlag(ScoreLack.EarlySeason))
            sentences.Add("A score needs two seasons of listening before it.");
        if (condition.Lacks.HasFlag(ScoreLack.FewSeasons))
            sentences.Add($"It needs {Phrases.Count(score.MinimumSeasons, "season", "seasons")} with surveys out of the last {Phrases.Count(score.WindowSeasons)}; there {Are(condition.SeasonsInWindow)}.");
        if (condition.Lacks.HasFlag(ScoreLack.FewWetlands))
            sentences.Add($"It needs {Phrases.Count(score.MinimumWetlands, "wetland", "wetlands")}; there {Are(condition.Wetlands)}.");
        if (condition.Lacks.HasFlag(ScoreLack.FewExpectedSpecies))
            sentences.Add($"It needs {Phrases.Count(score.MinimumExpectedSpecies)} species to expect; there {Are(condition.Expected)}.");
        if (condition.Lacks.HasFlag(ScoreLack.NoCallingIndex))
            sentences.Add("We can't compare its calling with the baseline seasons yet.");
        if (condition.Lacks.HasFlag(ScoreLack.NoSlopes))
            sentences.Add("We can't tell yet which way the species we expect go.");
        if (condition.Lacks.HasFlag(ScoreLack.MostlySilent))
            sentences.Add("Most seasons are silent where these species live, and a score would be too unsure.");
        if (sentences.Count == 0 && condition.Score is not null)
            sentences.Add("Too many of the draws that make up its range could not be scored.");
        return string.Join(' ', sentences);
    }

    /// <summary>The seasons everything is compared with, inside a sentence.</summary>
    public static string Baseline(BaselineOptions baseline) => baseline.Seasons is { Count: > 0 } seasons
        ? $"the baseline seasons {Phrases.Join(seasons.Order().Select(Phrases.Season).ToList())}"
        : baseline.FirstSeasons == 1 ? "its first season" : $"its first {Phrases.Count(baseline.FirstSeasons)} seasons";

    /// <summary>A part of the score by name.</summary>
    public static string PartName(ScorePart part) => part switch
    {
        ScorePart.Presence => "Presence",
        ScorePart.Sensitivity => "Sensitivity",
        ScorePart.Calling => "Calling",
        _ => "Direction",
    };

    /// <summary>What a part asks.</summary>
    public static string PartMeaning(ScorePart part) => part switch
    {
        ScorePart.Presence => "How many of the frogs and toads we expect did we hear, or may we have missed?",
        ScorePart.Sensitivity => "Did we hear the ones that need wild, clean wetlands, or may we have missed them?",
        ScorePart.Calling => "How much calling was there, set beside the baseline seasons?",
        _ => "How likely is it that each one holds its own?",
    };

    /// <summary>The line that keeps the calling part at 100 when there is more calling than in the baseline seasons.</summary>
    public const string HeldAtHundred = "More calling than the baseline seasons is counted as 100";

    private static string Are(int number) => number switch
    {
        0 => "are none",
        1 => "is 1",
        _ => $"are {Phrases.Count(number)}",
    };

    private static string Whole(double points) => points.ToString("0", CultureInfo.InvariantCulture);
}
