using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>A trend and the names its sentences need.</summary>
/// <param name="Trend">The result.</param>
/// <param name="Species">What people call the species, as it stands inside a sentence.</param>
/// <param name="Area">What people call the area.</param>
/// <param name="Options">The choices the trend was made with.</param>
public sealed record TrendTopic(Trend Trend, string Species, string Area, TrendOptions Options);

/// <summary>
/// What a trend says, in sentences for everybody: how much calling was heard, never how many frogs; no direction the
/// interval does not carry; and "can't tell yet" always with what is missing.
/// </summary>
/// <remarks>
/// Directions come from the interval of the underlying direction, which allows for good and bad springs that all wetlands
/// share; the interval of what happened over just these seasons stands beside it and says so. Results of editions that
/// have only the latter carry "over these seasons" with every direction.
/// </remarks>
public static class TrendSentences
{
    /// <summary>What a direction word is limited to when it does not allow for good and bad springs.</summary>
    public static string OverTheseSeasons => Say("trend.overTheseSeasons");

    /// <summary>The answer: which way and how much, or that nobody can tell yet.</summary>
    public static string Answer(TrendTopic topic)
    {
        var trend = topic.Trend;
        if (trend.Status == TrendStatus.NeverHeard)
            return Opening(trend.SilentStations == 0 ? "unlistened" : "unheard");
        if (trend.Status == TrendStatus.OneSeason)
            return Opening("oneSeason");
        string since = trend.FirstSeason is { } first ? Phrases.Season(first) : Phrases.None;
        string direction = trend.Direction == Direction.Unclear
            ? Opening("unclear")
            : Say($"trend.answer.{Key(trend)}", ("species", topic.Species), ("area", topic.Area), ("since", since));
        if (trend.Direction == Direction.Unclear)
            return direction;
        if (LooksBeneath(trend))
            return trend.PercentPerSeason is { } each ? $"{direction} {Say("trend.answer.change", ("change", Each(each, trend)))}" : direction;
        string span = trend.LastSeason is { } last ? Phrases.Seasons(trend.FirstSeason ?? last, last) : Phrases.None;
        return HasInterval(trend) && trend.PercentPerSeason is { } percent
            ? $"{direction} {Say("trend.answer.changeOver", ("change", Each(percent, trend)), ("span", span))}"
            : $"{direction} {Say("trend.answer.over", ("span", span))}";

        string Opening(string kind) => Say($"trend.answer.{kind}", ("species", topic.Species), ("area", topic.Area));
    }

    /// <summary>How sure we are, with the range, or what is missing before anybody can be.</summary>
    public static string HowSure(TrendTopic topic)
    {
        var (trend, _, _, options) = topic;
        if (!HasInterval(trend))
            return WithoutInterval(trend, options);
        return LooksBeneath(trend) && trend.Direction != Direction.Unclear
            ? $"{WithInterval(trend, options)} {Say("trend.sure.springs")} {JustTheseSeasons(trend)}"
            : WithInterval(trend, options);
    }

    /// <summary>Whether the direction allows for good and bad springs that all wetlands share.</summary>
    public static bool LooksBeneath(Trend trend) => trend.SeasonSd is not null;

    /// <summary>What stands behind a direction word that does not: nothing, or <c> over these seasons</c>.</summary>
    public static string Limit(Trend trend) => LooksBeneath(trend) || trend.Direction == Direction.Unclear ? "" : " " + OverTheseSeasons;

    /// <summary>What the other interval says: what happened, whatever the springs were like.</summary>
    private static string JustTheseSeasons(Trend trend) =>
        Say("trend.sure.justThese", ("range", ChangeWords.Range(trend.Lower, trend.Upper, trend.PercentPerSeason)));

    /// <summary>The range a direction rests on.</summary>
    private static (double? Lower, double? Upper) RangeOf(Trend trend) =>
        LooksBeneath(trend) ? (trend.LowerUnderlying, trend.UpperUnderlying) : (trend.Lower, trend.Upper);

    /// <summary>The range a direction rests on, in words.</summary>
    internal static string Range(Trend trend)
    {
        var (lower, upper) = RangeOf(trend);
        return ChangeWords.Range(lower, upper, trend.PercentPerSeason);
    }

    /// <summary>What the top of the call scale hides, from the warning share on; null below it.</summary>
    public static string? Ceiling(TrendTopic topic)
    {
        var (trend, _, _, options) = topic;
        if (trend.CeilingShare is not { } share || share < options.CeilingWarningShare)
            return null;
        string said = Say("trend.ceiling", ("share", Phrases.Share(share)));
        return share > options.CeilingMuteShare && trend.Direction == Direction.Unclear
            ? $"{said} {Say("trend.ceilingMuted")}"
            : said;
    }

    /// <summary>What the trend rests on.</summary>
    public static string Effort(TrendTopic topic)
    {
        var trend = topic.Trend;
        if (trend is not { Stations: { } stations, Surveys: { } surveys, SilentStations: { } silent })
            return Say("trend.effort.kept");
        if (trend.Status == TrendStatus.NeverHeard)
            return Say("trend.effort.unheard", ("n", silent));
        string rests = Say("trend.effort.rests", ("listening", EffortSentences.Listening(surveys, stations, trend.Clusters)), ("span", Span(trend)));
        return silent == 0 ? rests : $"{rests} {Say("trend.effort.silent", ("n", silent))}";
    }

    /// <summary>The whole answer as one paragraph.</summary>
    public static string Paragraph(TrendTopic topic) =>
        string.Join(' ', new[] { Answer(topic), HowSure(topic), Ceiling(topic) }.OfType<string>());

    /// <summary>The direction in two or three words, for a table or a map: <c>going down slowly</c>, <c>can't tell yet</c>.</summary>
    public static string Label(Trend trend) => Say($"trend.label.{(trend.Status == TrendStatus.NeverHeard ? "unheard" : Key(trend))}");

    /// <summary>A direction in words.</summary>
    public static string Label(Direction direction) => Say($"trend.label.{Key(direction)}");

    /// <summary>The change with its range, for a table; why there is none otherwise.</summary>
    public static string Change(Trend trend)
    {
        if (!HasInterval(trend))
            return Missing(trend);
        var (lower, upper) = RangeOf(trend);
        string range = ChangeWords.Range(lower, upper, trend.PercentPerSeason);
        return trend.PercentPerSeason is { } percent
            ? Say("trend.table.change", ("amount", ChangeWords.Amount(percent, lower, upper)), ("range", range))
            : Phrases.Capital(range);
    }

    /// <summary>Whether the trend carries an interval at all, so that a number may be shown.</summary>
    public static bool HasInterval(Trend trend) =>
        trend.Interval is IntervalKind.ObservedChange or IntervalKind.ObservedChangeStations;

    // A direction's own name in the files of words; slow ones have sentences of their own.
    private static string Key(Trend trend) =>
        Key(trend.Direction) + (trend is { Slowly: true, Direction: Direction.Up or Direction.Down } ? "Slowly" : "");

    private static string Key(Direction direction) => direction switch
    {
        Direction.Up => "up",
        Direction.Down => "down",
        Direction.Steady => "steady",
        _ => "unclear",
    };

    /// <summary>A change of so many percent each season, to stand inside a sentence.</summary>
    internal static string Each(double percent, Trend trend)
    {
        var (lower, upper) = RangeOf(trend);
        return ChangeWords.IsAlmostNone(percent)
            ? Say("trend.eachNone")
            : Say("trend.each", ("amount", ChangeWords.Amount(percent, lower, upper)));
    }

    private static string WithInterval(Trend trend, TrendOptions options)
    {
        string range = Range(trend), level = Phrases.Share(options.Confidence);
        string sure = trend.Direction switch
        {
            Direction.Up or Direction.Down => Say(trend.Slowly ? "trend.sure.slowly" : "trend.sure.direction", ("level", level), ("range", range)),
            Direction.Steady => Say(
                "trend.sure.steady", ("level", level), ("range", range), ("small", Phrases.Number(options.PracticalChangePercent, "0.##"))),
            _ => Unclear(trend, options, range, level),
        };
        return Only(trend) is { } only ? $"{only} {sure}" : sure;
    }

    private static string Unclear(Trend trend, TrendOptions options, string range, string level)
    {
        string guess = trend.PercentPerSeason is { } percent
            ? Say("trend.sure.guess", ("change", Each(percent, trend)), ("level", level), ("range", range))
            : Say("trend.sure.range", ("level", level), ("range", range));
        // Within the threshold and not called steady: it is the scale that keeps us from telling.
        bool muted = trend.CeilingShare > options.CeilingMuteShare
            && RangeOf(trend).Lower >= -options.PracticalChangePercent && RangeOf(trend).Upper <= options.PracticalChangePercent;
        string allows = LooksBeneath(trend) ? $" {Say("trend.sure.springs")}" : "";
        return $"{guess}{allows} {Say("trend.sure.toTell", ("muted", muted))}";
    }

    /// <summary>That every station heard it at one end of its seasons only; null for other results.</summary>
    internal static string? Only(Trend trend) => trend.Status switch
    {
        TrendStatus.OnlyInFirstSeasons => Say("trend.only.first"),
        TrendStatus.OnlyInLastSeasons => Say("trend.only.last"),
        _ => null,
    };

    private static string WithoutInterval(Trend trend, TrendOptions options) => trend.Status switch
    {
        TrendStatus.NeverHeard when trend.SilentStations == 0 => Say("trend.need.listener"),
        TrendStatus.NeverHeard => $"{Effort(new TrendTopic(trend, "", "", options))} {Say("trend.need.notAbsent")}",
        TrendStatus.OneSeason => Say("trend.need.twoSeasons"),
        _ => Only(trend) is { } only ? $"{only} {MissingSentence(trend, options)}" : MissingSentence(trend, options),
    };

    private static string MissingSentence(Trend trend, TrendOptions options) => trend.Interval switch
    {
        IntervalKind.FewClusters => Say(
            "trend.need.places", ("needed", options.MinimumClusters), ("unit", Unit(trend)), ("there", trend.InformativeClusters)),
        IntervalKind.FewSeasons => string.Join(' ', new[] { Say("trend.need.seasons", ("needed", options.MinimumSeasons)), SoFar(trend) }.OfType<string>()),
        IntervalKind.LostResamples => Say("trend.need.heardMore", ("unit", Unit(trend))),
        _ => Say("trend.need.noPercent"),
    };

    private static string Span(Trend trend) => trend is { FirstSeason: { } first, LastSeason: { } last } ? Phrases.Seasons(first, last) : Phrases.None;

    private static string? SoFar(Trend trend) => trend switch
    {
        { FirstSeason: { } first, LastSeason: { } last } when first == last => Say("trend.need.soFarOne", ("season", Phrases.Season(first))),
        { FirstSeason: { } first, LastSeason: { } last } => Say("trend.need.soFar", ("span", Phrases.Seasons(first, last))),
        _ => null,
    };

    // In an area that is one wetland it is the stations that are counted and left out.
    internal static string Unit(Trend trend) => trend.Clusters == 1 && trend.InformativeClusters > 1 ? "station" : "wetland";

    private static string Missing(Trend trend) => (trend.Status, trend.Interval) switch
    {
        (TrendStatus.NeverHeard, _) => Say(trend.SilentStations == 0 ? "trend.table.unlistened" : "trend.table.unheard"),
        (TrendStatus.OneSeason, _) => Say("trend.table.oneSeason"),
        (_, IntervalKind.FewClusters) => Say("trend.table.fewPlaces", ("unit", Unit(trend))),
        (_, IntervalKind.FewSeasons) => Say("trend.table.fewSeasons"),
        (_, IntervalKind.LostResamples) => Say("trend.table.rarely"),
        _ => Say("trend.table.noPercent"),
    };
}
