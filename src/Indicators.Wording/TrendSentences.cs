using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;

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
    public const string OverTheseSeasons = "over these seasons";

    /// <summary>The answer: which way and how much, or that nobody can tell yet.</summary>
    public static string Answer(TrendTopic topic)
    {
        var (trend, species, area, _) = topic;
        if (trend.Status == TrendStatus.NeverHeard)
        {
            return trend.SilentStations == 0
                ? $"No one has listened for {species} in {area} while it calls."
                : $"We have not heard {species} in {area}.";
        }
        if (trend.Status == TrendStatus.OneSeason)
            return $"We have heard {species} in {area}, but can't tell yet which way it goes.";

        string since = trend.FirstSeason is { } first ? $" since {Phrases.Season(first)}" : "";
        string direction = (trend.Direction, trend.Slowly) switch
        {
            (Direction.Down, false) => $"We have heard less and less {species} calling in {area}{since}.",
            (Direction.Up, false) => $"We have heard more and more {species} calling in {area}{since}.",
            (Direction.Down, true) => $"We have heard {species} calling in {area} go down slowly{since}.",
            (Direction.Up, true) => $"We have heard {species} calling in {area} go up slowly{since}.",
            (Direction.Steady, _) => $"We have heard {species} calling in {area} hold steady{since}.",
            _ => $"We can't tell yet which way {species} calling in {area} has gone.",
        };
        if (trend.Direction == Direction.Unclear)
            return direction;
        if (LooksBeneath(trend))
            return trend.PercentPerSeason is { } each ? $"{direction} That is {Each(each, trend)}." : direction;
        string seasons = OverTheseSeasons + (trend.LastSeason is { } last ? $", {Phrases.Seasons(trend.FirstSeason ?? last, last)}" : "");
        return HasInterval(trend) && trend.PercentPerSeason is { } percent
            ? $"{direction} {Phrases.Capital(seasons)}, that is {Each(percent, trend)}."
            : $"{direction} That is {seasons}.";
    }

    /// <summary>How sure we are, with the range, or what is missing before anybody can be.</summary>
    public static string HowSure(TrendTopic topic)
    {
        var (trend, _, _, options) = topic;
        if (!HasInterval(trend))
            return WithoutInterval(trend, options);
        return LooksBeneath(trend) && trend.Direction != Direction.Unclear
            ? $"{WithInterval(trend, options)} {AllowsForSprings} {JustTheseSeasons(trend)}"
            : WithInterval(trend, options);
    }

    /// <summary>Whether the direction allows for good and bad springs that all wetlands share.</summary>
    public static bool LooksBeneath(Trend trend) => trend.SeasonSd is not null;

    /// <summary>What stands behind a direction word that does not: nothing, or <c> over these seasons</c>.</summary>
    public static string Limit(Trend trend) => LooksBeneath(trend) || trend.Direction == Direction.Unclear ? "" : " " + OverTheseSeasons;

    /// <summary>What the other interval says: what happened, whatever the springs were like.</summary>
    private static string JustTheseSeasons(Trend trend) =>
        $"Over just these seasons the range is {ChangeWords.Range(trend.Lower, trend.Upper, trend.PercentPerSeason)}.";

    /// <summary>The range a direction rests on.</summary>
    private static (double? Lower, double? Upper) RangeOf(Trend trend) =>
        LooksBeneath(trend) ? (trend.LowerUnderlying, trend.UpperUnderlying) : (trend.Lower, trend.Upper);

    /// <summary>What the top of the call scale hides, from the warning share on; null below it.</summary>
    public static string? Ceiling(TrendTopic topic)
    {
        var (trend, _, _, options) = topic;
        if (trend.CeilingShare is not { } share || share < options.CeilingWarningShare)
            return null;
        string said = $"On {Phrases.Share(share)} of surveys we heard a full chorus, the top of our scale. " +
            "The scale can't show more than that, so the real change may be larger.";
        return share > options.CeilingMuteShare && trend.Direction == Direction.Unclear
            ? said + " With so many, we would not call it steady."
            : said;
    }

    /// <summary>What the trend rests on.</summary>
    public static string Effort(TrendTopic topic)
    {
        var trend = topic.Trend;
        if (trend.Status == TrendStatus.NeverHeard)
            return $"We listened at {Phrases.Count(trend.SilentStations, "station", "stations")} in its calling season.";
        string rests = $"This rests on {EffortSentences.Listening(trend.Surveys, trend.Stations, trend.Clusters)} where we have heard it{Span(trend)}.";
        return trend.SilentStations == 0
            ? rests
            : $"{rests} {Phrases.Count(trend.SilentStations, "more station", "more stations")} listened and never heard it.";
    }

    /// <summary>The whole answer as one paragraph.</summary>
    public static string Paragraph(TrendTopic topic) =>
        string.Join(' ', new[] { Answer(topic), HowSure(topic), Ceiling(topic) }.OfType<string>());

    /// <summary>The direction in two or three words, for a table or a map: <c>going down slowly</c>, <c>can't tell yet</c>.</summary>
    public static string Label(Trend trend) => trend.Status == TrendStatus.NeverHeard
        ? "not heard yet"
        : Label(trend.Direction) + (trend is { Slowly: true, Direction: Direction.Up or Direction.Down } ? " slowly" : "");

    /// <summary>A direction in words.</summary>
    public static string Label(Direction direction) => direction switch
    {
        Direction.Up => "going up",
        Direction.Down => "going down",
        Direction.Steady => "holding steady",
        _ => "can't tell yet",
    };

    /// <summary>The change with its range, for a table; why there is none otherwise.</summary>
    public static string Change(Trend trend)
    {
        if (!HasInterval(trend))
            return Missing(trend);
        var (lower, upper) = RangeOf(trend);
        string range = ChangeWords.Range(lower, upper, trend.PercentPerSeason);
        return trend.PercentPerSeason is { } percent
            ? $"{ChangeWords.Amount(percent, lower, upper)} ({range})"
            : Phrases.Capital(range);
    }

    /// <summary>Whether the trend carries an interval at all, so that a number may be shown.</summary>
    public static bool HasInterval(Trend trend) =>
        trend.Interval is IntervalKind.ObservedChange or IntervalKind.ObservedChangeStations;

    private static string Each(double percent, Trend trend)
    {
        var (lower, upper) = RangeOf(trend);
        string amount = ChangeWords.Amount(percent, lower, upper);
        return amount.Contains('%', StringComparison.Ordinal) ? $"about {amount} each season" : $"{amount} each season";
    }

    private static string WithInterval(Trend trend, TrendOptions options)
    {
        var (lower, upper) = RangeOf(trend);
        string range = ChangeWords.Range(lower, upper, trend.PercentPerSeason);
        string level = Phrases.Share(options.Confidence);
        string small = $"{options.PracticalChangePercent.ToString("0.##", CultureInfo.InvariantCulture)}{Phrases.HardSpace}%";
        string sure = trend.Direction switch
        {
            Direction.Up or Direction.Down when trend.Slowly =>
                $"We are quite sure of the direction ({level} range: {range}). The change is small.",
            Direction.Up or Direction.Down => $"We are quite sure of the direction ({level} range: {range}).",
            Direction.Steady => $"We are quite sure that any change is small ({level} range: {range}). Small means no more than {small} each season.",
            _ => Unclear(trend, options, range, level),
        };
        return trend.Status switch
        {
            TrendStatus.OnlyInFirstSeasons => $"{OnlyFirst} {sure}",
            TrendStatus.OnlyInLastSeasons => $"{OnlyLast} {sure}",
            _ => sure,
        };
    }

    private static string Unclear(Trend trend, TrendOptions options, string range, string level)
    {
        string guess = trend.PercentPerSeason is { } percent
            ? $"Our best guess is {Each(percent, trend)}. The {level} range is {range}."
            : $"The {level} range is {range}.";
        // Within the threshold and not called steady: it is the scale that keeps us from telling.
        bool muted = trend.CeilingShare > options.CeilingMuteShare
            && RangeOf(trend).Lower >= -options.PracticalChangePercent && RangeOf(trend).Upper <= options.PracticalChangePercent;
        string missing = muted ? "a scale that goes on past the full chorus" : "more seasons or more wetlands";
        string allows = LooksBeneath(trend) ? $" {AllowsForSprings}" : "";
        return $"{guess}{allows} To tell, we need {missing}. That does not mean all is well.";
    }

    private const string AllowsForSprings = "That allows for good and bad springs.";
    private const string OnlyFirst = "Each station that heard it did so in its first season, and not since.";
    private const string OnlyLast = "Each station that heard it did so only in its last season.";

    private static string WithoutInterval(Trend trend, TrendOptions options) => (trend.Status, trend.Interval) switch
    {
        (TrendStatus.NeverHeard, _) => trend.SilentStations == 0
            ? "To tell, someone has to listen there when it calls."
            : $"{Effort(new TrendTopic(trend, "", "", options))} That does not mean it is not there.",
        (TrendStatus.OneSeason, _) => "To tell, we need two seasons of listening at the same station.",
        (TrendStatus.OnlyInFirstSeasons, _) => $"{OnlyFirst} {MissingSentence(trend, options)}",
        (TrendStatus.OnlyInLastSeasons, _) => $"{OnlyLast} {MissingSentence(trend, options)}",
        _ => MissingSentence(trend, options),
    };

    private static string MissingSentence(Trend trend, TrendOptions options) => trend.Interval switch
    {
        IntervalKind.FewClusters =>
            $"To tell, we need {Phrases.Count(options.MinimumClusters)} or more {Unit(trend)} that heard it, with two seasons of listening. " +
            $"So far there {(trend.InformativeClusters == 1 ? "is" : "are")} {(trend.InformativeClusters == 0 ? "none" : Phrases.Count(trend.InformativeClusters))}.",
        IntervalKind.FewSeasons => $"To tell, we need {Phrases.Count(options.MinimumSeasons)} or more seasons of listening where it calls.{SoFar(trend)}",
        IntervalKind.LostResamples => "It was heard at too few places, or too few times, to say how sure we are. To tell, we need to hear it at more wetlands.",
        _ => "There is no percent that fits this. To tell, we need more seasons.",
    };

    private static string Span(Trend trend) => trend is { FirstSeason: { } first, LastSeason: { } last }
        ? $", {Phrases.Seasons(first, last)}"
        : "";

    private static string SoFar(Trend trend) => trend is { FirstSeason: { } first, LastSeason: { } last }
        ? first == last ? $" So far there is only {Phrases.Season(first)}." : $" So far they run from {Phrases.Seasons(first, last)}."
        : "";

    // In an area that is one wetland it is the stations that are counted.
    private static string Unit(Trend trend) => trend.Clusters == 1 && trend.InformativeClusters > 1 ? "stations" : "wetlands";

    private static string Missing(Trend trend) => (trend.Status, trend.Interval) switch
    {
        (TrendStatus.NeverHeard, _) => trend.SilentStations == 0 ? "nobody listened in its season" : "not heard",
        (TrendStatus.OneSeason, _) => "one season only",
        (_, IntervalKind.FewClusters) => $"too few {Unit(trend)}",
        (_, IntervalKind.FewSeasons) => "too few seasons",
        (_, IntervalKind.LostResamples) => "heard too rarely",
        _ => "no percent fits",
    };
}
