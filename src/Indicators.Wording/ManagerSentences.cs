using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>
/// Results for the people who decide where to act: short, with the number, its range, how likely it is and what it rests on.
/// The same directions and hedges as for everybody; the reader knows the words of the programme.
/// </summary>
public static class ManagerSentences
{
    /// <summary>A trend, without the names it stands beside in a table or a list.</summary>
    /// <param name="topic">The trend.</param>
    /// <param name="grade">How well it is supported; null when nothing was graded.</param>
    public static string Trend(TrendTopic topic, Evidence? grade = null)
    {
        var trend = topic.Trend;
        string said = TrendSentences.HasInterval(trend) ? WithRange(topic) : Say("manager.trendNone", ("direction", Direction(trend)), ("missing", TrendSentences.Change(trend)));
        return grade is not { } supported || trend.Status == TrendStatus.NeverHeard
            ? said
            : $"{said} {Say("manager.grade", ("grade", EvidenceSentences.Label(supported)), ("thin", supported == Evidence.Thin))}";
    }

    /// <summary>A condition, without the name it stands beside.</summary>
    public static string Condition(ConditionTopic topic)
    {
        var condition = topic.Condition;
        if (condition.Score is not { } score)
            return Say("manager.conditionNone", ("missing", ConditionSentences.Missing(topic))).TrimEnd();
        if (condition is not { Lower: { } lower, Upper: { } upper, ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor })
            return Say("manager.conditionUnsure", ("missing", ConditionSentences.Missing(topic))).TrimEnd();
        var chances = new[] { (Class: ConditionClass.Good, Share: good), (Class: ConditionClass.Fair, Share: fair), (Class: ConditionClass.Poor, Share: poor) }
            .Where(each => each.Share > 0)
            .Select(each => Say("manager.conditionChance", ("class", ConditionSentences.ClassName(each.Class)), ("share", Phrases.Chance(each.Share))))
            .ToList();
        string said = Say(
            "manager.condition", ("class", Phrases.Capital(ConditionSentences.Label(condition))), ("score", Phrases.Number(score, "0")),
            ("level", Phrases.Share(topic.Settings.Trend.Confidence)), ("lower", Phrases.Number(lower, "0")), ("upper", Phrases.Number(upper, "0")),
            ("chances", Phrases.Join(chances)));
        string rests = Say(
            "manager.conditionRests", ("heard", condition.Heard), ("expected", condition.Expected),
            ("surveys", condition.Surveys), ("wetlands", condition.Wetlands));
        return $"{said} {rests}";
    }

    private static string WithRange(TrendTopic topic)
    {
        var trend = topic.Trend;
        string level = Phrases.Share(topic.Options.Confidence), range = TrendSentences.Range(trend), direction = Direction(trend);
        if (trend.PercentPerSeason is not { } percent)
            return Say("manager.trendRange", ("direction", direction), ("level", level), ("range", range));
        string change = TrendSentences.Each(percent, trend);
        if (trend.ProbabilityOfDecline is not { } falling)
            return Say("manager.trendNoChance", ("direction", direction), ("change", change), ("level", level), ("range", range));
        bool falls = trend.Direction != Analysis.Results.Direction.Up;
        return Say(
            "manager.trend", ("direction", direction), ("change", change), ("level", level), ("range", range),
            ("falls", falls), ("chance", Phrases.Chance(falls ? falling : 1 - falling)));
    }

    // All of the draws is not certainty, and none is not either: there are only so many of them.

    private static string Direction(Trend trend) => Phrases.Capital(TrendSentences.Label(trend) + TrendSentences.Limit(trend));
}
