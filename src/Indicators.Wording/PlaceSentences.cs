using Indicators.Analysis.Results;
using Indicators.Monitoring;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What the page of a neighbourhood says: finding a place, and its answer in one sentence.</summary>
public static class PlaceSentences
{
    /// <summary>The page's name.</summary>
    public static string Title => Say("place.title");

    /// <summary>What the page is for.</summary>
    public static string Lead => Say("place.lead");

    /// <summary>What to type.</summary>
    public static string Label => Say("place.label");

    /// <summary>The button that searches.</summary>
    public static string Find => Say("place.find");

    /// <summary>A heading over the map and the list.</summary>
    public static string Pick => Say("place.pick");

    /// <summary>A link back to the search.</summary>
    public static string Another => Say("place.another");

    /// <summary>The button that asks the browser where the reader is.</summary>
    public static string UseMine => Say("place.useMine");

    /// <summary>What happens to the position.</summary>
    public static string UseMineNote => Say("place.useMineNote");

    /// <summary>That the browser is at it.</summary>
    public static string Looking => Say("place.looking");

    /// <summary>That the browser gave no position.</summary>
    public static string Refused => Say("place.refused");

    /// <summary>That the position lies in none of the watersheds.</summary>
    public static string Outside => Say("place.outside");

    /// <summary>That something else went wrong.</summary>
    public static string Failed => Say("place.failed");

    /// <summary>A column of species.</summary>
    public static string Species => Say("place.species");

    /// <summary>A heading over the wetlands of a watershed.</summary>
    public static string Wetlands => Say("place.wetlands");

    /// <summary>A heading over what people can do.</summary>
    public static string HelpHeading => Say("place.helpHeading");

    /// <summary>Where the cautions are; the words of a link.</summary>
    public static string HelpCautions => Say("place.helpCautions");

    /// <summary>A link to the whole page of an area.</summary>
    public static string All(string area) => Say("place.all", ("area", area));

    /// <summary>How many places were found, and whether these are all.</summary>
    /// <param name="query">What was typed.</param>
    /// <param name="shown">How many are listed.</param>
    /// <param name="more">Whether there are more than these.</param>
    public static string Found(string query, int shown, bool more) => shown == 0
        ? Say("place.unknown", ("query", query))
        : more ? Say("place.foundFirst", ("n", shown)) : Say("place.found", ("n", shown));

    /// <summary>What a place is, and where.</summary>
    public static string Kind(GazetteerKind kind, string area) => kind switch
    {
        GazetteerKind.Watershed => Say("place.watershed"),
        GazetteerKind.Wetland => Say("place.wetland", ("area", area)),
        _ => Say("place.station", ("area", area)),
    };

    /// <summary>Condition and direction of an area in one sentence.</summary>
    /// <param name="area">Its name.</param>
    /// <param name="season">The season of the condition.</param>
    /// <param name="condition">Its condition, or null.</param>
    /// <param name="together">The trend of all species put together, or null.</param>
    public static string Answer(string area, int season, Condition? condition, GroupTrend? together)
    {
        string direction = Say("place.direction", ("direction", (together?.Direction ?? Direction.Unclear) switch
        {
            Direction.Up => "up",
            Direction.Down => "down",
            Direction.Steady => "steady",
            _ => "unclear",
        }));
        string? words = condition is { Lower: not null, Upper: not null } ? ConditionSentences.ClassWords(condition) : null;
        if (words is null)
            return Say("place.answerNone", ("area", area), ("season", Phrases.Season(season)), ("direction", direction));
        bool alone = condition is { ProbabilityGood: >= ConditionSentences.ClassAloneFrom } or { ProbabilityFair: >= ConditionSentences.ClassAloneFrom } or { ProbabilityPoor: >= ConditionSentences.ClassAloneFrom };
        return Say(alone ? "place.answerAlone" : "place.answerBetween", ("area", area), ("season", Phrases.Season(season)), ("class", words), ("direction", direction));
    }

    /// <summary>The points behind the class with their range; null without them.</summary>
    public static string? Points(Condition? condition, double confidence) =>
        condition is not null && ConditionSentences.Points(condition) is { } points
            ? Say("place.points", ("points", points), ("level", Phrases.Share(confidence)))
            : null;
}
