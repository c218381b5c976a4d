using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What a manager reads of one season: how it stands, what moved and why, where to look, what is missing of the listening.</summary>
public static class SeasonSentences
{
    /// <summary>The page's heading.</summary>
    public static string Title(int season) => Say("season.title", ("season", Phrases.Season(season)));

    /// <summary>The listening of the season and how many watersheds have a score.</summary>
    /// <param name="effort">The listening of the whole programme's area.</param>
    /// <param name="scored">Watersheds shown with a score.</param>
    /// <param name="shown">Watersheds shown.</param>
    public static string Answer(SeasonEffort effort, int scored, int shown) => Say(
        "season.answer",
        ("season", Phrases.Season(effort.Season)),
        ("surveys", Say("phrase.surveys", ("n", effort.Surveys))),
        ("stations", Say("phrase.stations", ("n", effort.Stations))),
        ("wetlands", Say("phrase.wetlands", ("n", effort.Wetlands))),
        ("scores", Say(scored == shown ? "season.scoresAll" : "season.scores", ("scored", scored), ("shown", shown))));

    /// <summary>How many scores moved since the season before.</summary>
    /// <param name="changes">The changes of the watersheds shown, all from the same season.</param>
    /// <param name="from">That season.</param>
    public static string Moves(IReadOnlyCollection<ScoreChange> changes, int from)
    {
        int down = changes.Count(change => change.Upper < 0), up = changes.Count(change => change.Lower > 0), rest = changes.Count - down - up;
        string moved = (changes.Count, down, up) switch
        {
            (0, _, _) => "nothing",
            (_, 0, 0) => "none",
            (_, _, 0) => "fell",
            (_, 0, _) => "rose",
            _ => "both",
        };
        string said = Say($"season.moves.{moved}", ("from", Phrases.Season(from)), ("down", down), ("up", up), ("n", rest));
        return down + up > 0 && rest > 0 ? $"{said} {Say("season.moves.others", ("n", rest))}" : said;
    }

    /// <summary>A fixed sentence or heading of the page: its name in the files of words.</summary>
    public static string Fixed(string name) => Say($"season.{name}");

    /// <summary>A column's heading.</summary>
    public static string Column(string name) => Say($"season.column.{name}");

    /// <summary>The heading of the column of changes since a season.</summary>
    public static string Since(int from, bool withRange) => Say(withRange ? "season.column.since" : "season.column.sincePast", ("from", Phrases.Season(from)));

    /// <summary>What the table of a change shows.</summary>
    public static string ChangeCaption(ChangeSince since, int from) =>
        Say(since == ChangeSince.PreviousSeason ? "season.changedSince" : "season.changedBaseline", ("from", Phrases.Season(from)));

    /// <summary>The heading of the species' calling in an area.</summary>
    public static string Calling(string area) => Say("season.calling", ("area", area));

    /// <summary>What the table of the species' calling shows.</summary>
    public static string CallingCaption(int season, int first, int last) =>
        Say("season.callingSince", ("season", Phrases.Season(season)), ("from", Phrases.Seasons(first, last)));

    /// <summary>What the table of conditions shows.</summary>
    public static string ConditionCaption(int season) => Say("season.conditionCaption", ("season", Phrases.Season(season)));

    /// <summary>What the table of listening shows.</summary>
    public static string ListeningCaption(int season) => Say("season.listeningCaption", ("season", Phrases.Season(season)));

    /// <summary>A step of the listening, as a column's heading.</summary>
    public static string Step(ListeningStep step) => Say($"season.step.{Name(step)}");

    /// <summary>A change of the score with its range: <c>−2.9 (−13.0 to +6.0)</c>; empty when there is none.</summary>
    public static string Points(ScoreChange? change) => change is null ? ""
        : change is { Lower: { } lower, Upper: { } upper } ? $"{Tenths(change.Points)} ({Phrases.Span(Tenths(lower), Tenths(upper))})"
        : Tenths(change.Points);

    /// <summary>What was heard by itself, with its range; empty without one.</summary>
    public static string HeardAlone(CallingChange change)
    {
        if (change is not { Heard: { } heard, StoppedAt: not ListeningStep.Stations })
            return Say("season.notTold");
        double percent = Percent(heard);
        double? lower = change.HeardLower is { } low ? Percent(low) : null, upper = change.HeardUpper is { } high ? Percent(high) : null;
        return lower is null && upper is null
            ? ChangeWords.Amount(percent)
            : Say("trend.table.change", ("amount", ChangeWords.Amount(percent, lower, upper)), ("range", ChangeWords.Range(lower, upper, percent)));
    }

    /// <summary>Why a line stands in <em>Needs a look</em>, and what to do first.</summary>
    /// <param name="concern">The line.</param>
    /// <param name="area">What people call the watershed.</param>
    /// <param name="species">The species, inside a sentence; null for stations gone quiet.</param>
    /// <param name="confidence">Of the range.</param>
    public static string Look(Concern concern, string area, string? species, double confidence)
    {
        string next = concern is { Step: NextStep.AddWetlands, Trend: { } thin }
            ? Say("season.next.addWetlands", ("unit", TrendSentences.Unit(thin)))
            : Say($"season.next.{Name(concern.Step)}");
        if (concern is not { Trend: { } trend, Grade: { } grade })
        {
            return $"{Phrases.Capital(Say("season.quiet", ("area", area), ("n", concern.Quiet!.Listed), ("expected", Phrases.Number(concern.Quiet.ExpectedByChance, "0.0"))))} {next}";
        }
        var topic = new TrendTopic(trend, species!, area, new TrendOptions { Confidence = confidence });
        return Say("season.lookAt", ("where", OverviewSentences.SpeciesIn(species!, area)), ("trend", ManagerSentences.Trend(topic, grade)), ("next", next));
    }

    /// <summary>How many lines of the list are left out.</summary>
    public static string LookMore(int number) => Say("season.lookMore", ("n", number));

    /// <summary>So many of so many.</summary>
    public static string Of(int missed, int before) => Say("season.missed", ("missed", missed), ("before", before));

    /// <summary>A number of wetlands that is under the target, with the target.</summary>
    public static string UnderTarget(int target) => Say("season.target", ("n", target));

    /// <summary>What the target of wetlands is.</summary>
    public static string TargetNote(int target) => Say("season.targetNote", ("n", target));

    /// <summary>The words of a link to a watershed.</summary>
    public static string See(string area) => Say("season.see", ("area", area));

    private static string Tenths(double points) => Phrases.WithSign(points, "0.0");

    private static double Percent(double log) => 100 * (Math.Exp(log) - 1);

    private static string Name<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());
}
