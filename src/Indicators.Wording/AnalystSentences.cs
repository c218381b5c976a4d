using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>
/// Results for those who work with the numbers: the estimate, which interval it carries, on how many clusters and degrees of
/// freedom. Signs instead of "less" and "more", two digits more than for everybody.
/// </summary>
public static class AnalystSentences
{
    private const string Percent = "0.00";
    private const string Points = "0.0";
    private const string Share = "0.000";

    /// <summary>Shares of some thousand draws, with as many decimals as they have, so that they add up to 1.</summary>
    private const string ShareOfDraws = "0.0000";

    /// <summary>A trend with its intervals.</summary>
    public static string Trend(TrendTopic topic)
    {
        var (trend, _, _, options) = topic;
        var said = new List<string>();
        if (trend.PercentPerSeason is { } percent)
            said.Add(Say("analyst.estimate", ("percent", Phrases.WithSign(percent, Percent))));
        else
            said.Add(Say("analyst.noEstimate", ("why", TrendSentences.HasInterval(trend) ? TrendSentences.Only(trend)?.TrimEnd('.') ?? Say("trend.table.noPercent") : TrendSentences.Change(trend))));
        if (TrendSentences.HasInterval(trend))
            said.AddRange(Intervals(trend, options));
        else if (trend.PercentPerSeason is not null)
            said.Add(Say("analyst.noInterval", ("why", TrendSentences.Change(trend))));
        said.Add(trend is { Stations: { } stations, SilentStations: { } silent, Surveys: { } surveys }
            ? Say(
                "analyst.rests", ("clusters", trend.Clusters), ("informative", trend.InformativeClusters), ("stations", stations), ("silent", silent), ("surveys", surveys))
            : Say("analyst.restsKept", ("clusters", trend.Clusters), ("informative", trend.InformativeClusters)));
        return string.Join(' ', said);
    }

    /// <summary>A condition with its interval and parts.</summary>
    public static string Condition(ConditionTopic topic)
    {
        var condition = topic.Condition;
        if (condition.Score is not { } score)
            return Say("analyst.scoreNone", ("missing", ConditionSentences.Missing(topic))).TrimEnd();
        if (condition is not { Lower: { } lower, Upper: { } upper, ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor })
            return Say("analyst.scoreUnsure", ("missing", ConditionSentences.Missing(topic))).TrimEnd();
        string?[] said =
        [
            Say(
                "analyst.score", ("score", Phrases.Number(score, Points)), ("level", Phrases.Share(topic.Settings.Trend.Confidence)),
                ("lower", Phrases.Number(lower, Points)), ("upper", Phrases.Number(upper, Points)),
                ("good", Phrases.Number(good, ShareOfDraws)), ("fair", Phrases.Number(fair, ShareOfDraws)), ("poor", Phrases.Number(poor, ShareOfDraws))),
            Say(
                "analyst.parts", ("presence", Part(condition.PresencePart)), ("sensitivity", Part(condition.SensitivityPart)),
                ("calling", Part(condition.CallingPart)), ("direction", Part(condition.DirectionPart))),
            condition is { PresenceRawPart: { } presence, SensitivityRawPart: { } sensitivity }
                ? Say("analyst.raw", ("presence", Part(presence)), ("sensitivity", Part(sensitivity)))
                : null,
        ];
        return string.Join(' ', said.OfType<string>());
    }

    private static IEnumerable<string> Intervals(Trend trend, TrendOptions options)
    {
        string level = Phrases.Share(options.Confidence);
        if (trend.SeasonSd is { } sd)
            yield return Say("analyst.underlying", ("level", level), ("ends", Ends(trend.LowerUnderlying, trend.UpperUnderlying)), ("sd", Phrases.Number(sd, Share)));
        yield return Say(
            "analyst.observed", ("level", level), ("ends", Ends(trend.Lower, trend.Upper)), ("resamples", trend.Resamples), ("units", trend.InformativeClusters),
            ("unit", trend.Interval == IntervalKind.ObservedChangeStations ? "station" : "wetland"), ("df", trend.InformativeClusters - 1));
        if (trend.JackknifeLower is not null || trend.JackknifeUpper is not null)
            yield return Say("analyst.jackknife", ("ends", Ends(trend.JackknifeLower, trend.JackknifeUpper)));
        if (trend.BcaLower is not null || trend.BcaUpper is not null)
            yield return Say("analyst.bca", ("ends", Ends(trend.BcaLower, trend.BcaUpper)));
        if (trend.EqualStationsPercent is { } alike)
            yield return Say("analyst.equalStations", ("percent", Phrases.WithSign(alike, Percent)));
        if (trend.ProbabilityOfDecline is { } falling)
            yield return Say("analyst.decline", ("share", Phrases.Number(falling, Share)));
    }

    private static string Ends(double? lower, double? upper) => Say(
        "analyst.ends",
        ("lower", lower is { } low ? Phrases.WithSign(low, Percent) : Say("analyst.noLower")),
        ("upper", upper is { } high ? Phrases.WithSign(high, Percent) : Say("analyst.noUpper")));

    private static string Part(double? points) => points is { } some ? Phrases.Number(some, Points) : Say("analyst.noPart");
}
