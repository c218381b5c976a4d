using Indicators.Analysis.Results;
using NodaTime;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What there is to say about editions, one by one and two side by side.</summary>
public static class ComparisonSentences
{
    /// <summary>A fixed sentence or heading: its name in the files of words.</summary>
    public static string Fixed(string name) => Say($"editions.{name}");

    /// <summary>A column's heading.</summary>
    public static string Column(string name) => Say($"editions.column.{name}");

    /// <summary>The heading of a column about one edition.</summary>
    public static string Of(long number) => Say("editions.column.before", ("number", number));

    /// <summary>The heading of two editions side by side.</summary>
    public static string Pair(long before, long after) => Say("editions.pair", ("before", before), ("after", after));

    /// <summary>What moved enough to be told in other words.</summary>
    /// <param name="classes">How many watersheds have another class of condition.</param>
    /// <param name="words">How many trends have another word for their direction.</param>
    /// <param name="trends">How many trends both editions have.</param>
    public static string Answer(int classes, int words, int trends) => Say("editions.answer", ("classes", classes), ("words", words), ("trends", trends));

    /// <summary>The words of a link to an edition.</summary>
    public static string Open(long number) => Say("editions.open", ("number", number));

    /// <summary>The words of a link that sets an edition beside another.</summary>
    public static string Link(long number) => Say("editions.link", ("number", number));

    /// <summary>A day of a year: <c>2 September 2026</c>.</summary>
    public static string Date(LocalDate date) =>
        Say("editions.date", ("day", Phrases.Day(new AnnualDate(date.Month, date.Day))), ("year", Phrases.Season(date.Year)));

    /// <summary>What can have made two editions differ, a sentence a cause.</summary>
    /// <param name="causes">The causes.</param>
    /// <param name="surveys">How the surveys differ.</param>
    /// <param name="species">Species listed in another way.</param>
    /// <param name="expected">Areas with another expected list.</param>
    /// <param name="settings">How many settings differ.</param>
    public static IReadOnlyList<string> Causes(EditionCauses causes, SurveyDifference surveys, int species, int expected, int settings)
    {
        var said = new List<string>();
        if (causes == EditionCauses.None)
            said.Add(Say("editions.same"));
        // The same surveys, of which a run looks at more or fewer: that is the run, and no cause of its own.
        bool isRun = causes.HasFlag(EditionCauses.NewRun) && (causes & (EditionCauses.NewData | EditionCauses.CorrectedData)) == 0;
        string? span = surveys is { AddedFirst: { } first, AddedLast: { } last } ? Phrases.Seasons(first, last) : null;
        if (!isRun && span is not null)
            said.Add(Say("editions.newData", ("n", surveys.Added), ("span", span)));
        Count("changed", surveys.Changed);
        if (!isRun)
            Count("removed", surveys.Removed);
        Count("species", species);
        Count("expected", expected);
        If(EditionCauses.WithheldData, "withheld");
        Count("settings", settings);
        if (isRun && span is not null)
            said.Add(Say("editions.runMore", ("n", surveys.Added), ("span", span)));
        else if (isRun && surveys.Removed > 0)
            Count("runFewer", surveys.Removed);
        else
            If(EditionCauses.NewRun, "run");
        If(EditionCauses.NewEngine, "engine");
        return said;

        void Count(string name, int number)
        {
            if (number > 0) said.Add(Say($"editions.{name}", ("n", number)));
        }

        void If(EditionCauses cause, string name)
        {
            if (causes.HasFlag(cause)) said.Add(Say($"editions.{name}"));
        }
    }

    /// <summary>Whether the causes can be told apart; null where there is none.</summary>
    /// <param name="causes">How many there are.</param>
    /// <param name="apart">The steps in which it was found out what each moved; empty where it was not.</param>
    /// <param name="between">Whether editions lie between.</param>
    public static string? Apart(int causes, IReadOnlyCollection<EditionCauses> apart, bool between) => (causes, apart.Count) switch
    {
        (0, _) => null,
        (1, _) => Say("editions.one"),
        (_, 0) => $"{Say("editions.several")} {Say(between ? "editions.between" : "editions.noneBetween")}",
        _ => $"{Say("editions.severalApart")} {Say("editions.apart", ("steps", Phrases.Join([.. apart.Select(Cause)])))}",
    };

    /// <summary>What each cause moved of a score, in order, with the class where it became another.</summary>
    public static string ByCause(IEnumerable<(EditionCauses Causes, Condition? Before, Condition? After)> steps) => ByCause(steps.Select(step =>
        step is { Before: { Score: not null } before, After: { Score: not null } after }
            ? (step.Causes, WithWord(
                Moved(before with { Class = after.Class, ProbabilityGood = after.ProbabilityGood, ProbabilityFair = after.ProbabilityFair, ProbabilityPoor = after.ProbabilityPoor }, after),
                ConditionSentences.Label(before), ConditionSentences.Label(after)))
            : (step.Causes, Moved(step.Before, step.After))));

    /// <summary>The same of a trend, with the direction where it became another; nothing of a step without the trend.</summary>
    public static string ByCause(IEnumerable<(EditionCauses Causes, Trend? Before, Trend? After)> steps) => ByCause(steps.Select(step =>
        (step.Causes, step is { Before: { } before, After: { } after }
            ? WithWord(
                Moved(before with { Direction = after.Direction, Slowly = after.Slowly, Status = after.Status }, after),
                TrendSentences.Label(before), TrendSentences.Label(after))
            : null)));

    private static string? WithWord(string? moved, string before, string after) => before == after ? moved
        : string.Join(", ", new[] { moved, Say("editions.moves.now", ("label", after)) }.OfType<string>());

    private static string ByCause(IEnumerable<(EditionCauses Causes, string? Moved)> steps)
    {
        var said = steps.Where(step => step.Moved is not null).Select(step => Say("editions.by", ("cause", Cause(step.Causes)), ("what", step.Moved!))).ToList();
        return said.Count == 0 ? Say("editions.byNone") : string.Join("; ", said);
    }

    /// <summary>One cause, or several that could not be told apart, in a word or two.</summary>
    private static string Cause(EditionCauses causes)
    {
        const EditionCauses corrected = EditionCauses.CorrectedData | EditionCauses.WithheldData;
        (EditionCauses Causes, string Name)[] all =
        [
            (EditionCauses.NewEngine, "newEngine"), (corrected, "correctedData"), (EditionCauses.NewData, "newData"),
            (EditionCauses.NewSettings, "newSettings"), (EditionCauses.NewRun, "newRun"),
        ];
        return Phrases.Join([.. all.Where(each => (each.Causes & causes) != 0).Select(each => Say($"editions.cause.{each.Name}"))]);
    }

    /// <summary>How an area's surveys differ.</summary>
    public static string Surveys(SurveyDifference surveys)
    {
        (string Name, int Number)[] all = [("added", surveys.Added), ("changed", surveys.Changed), ("removed", surveys.Removed)];
        var said = all.Where(each => each.Number > 0).Select(each => Say($"editions.surveys.{each.Name}", ("n", each.Number))).ToList();
        return said.Count == 0 ? Say("editions.surveys.same") : string.Join(", ", said);
    }

    /// <summary>A setting's value; in words where there is none, which for the last season of a run means all of them.</summary>
    public static string Value(string key, string? value) => !string.IsNullOrEmpty(value) ? value : key == "through_season" ? Say("method.throughAll") : Column("empty");

    /// <summary>How many trends moved.</summary>
    public static string TrendsCount(int moved, int compared) => Say("editions.trendsCount", ("moved", moved), ("n", compared));

    /// <summary>How many rows are left out.</summary>
    public static string More(int number) => Say("editions.more", ("n", number));

    /// <summary>What of a condition moved that a reader can see: the score in tenths of a point, else its class and its range; null when nothing.</summary>
    /// <param name="before">In the earlier edition; null when it had none.</param>
    /// <param name="after">In the later edition.</param>
    public static string? Moved(Condition? before, Condition? after) => (before?.Score, after?.Score) switch
    {
        (null, null) => null,
        (null, _) => Say("editions.moves.scoreNow"),
        (_, null) => Say("editions.moves.noScoreNow"),
        ({ } old, { } now) when Tenths(now - old) is { } points => Say("editions.moves.points", ("points", points)),
        _ => Named(
            ("class", ConditionSentences.Label(before) != ConditionSentences.Label(after)),
            ("range", ConditionSentences.Points(before! with { Score = after!.Score }) != ConditionSentences.Points(after)))
            ?? (ConditionSentences.Points(before) == ConditionSentences.Points(after) ? null : Say("editions.moves.points", ("points", Under))),
    };

    /// <summary>
    /// What of a trend moved that a reader can see: the slope in tenths of a percentage point, else its word and its range; null
    /// when nothing. A slope without a range is not shown, so it does not move.
    /// </summary>
    /// <param name="before">In the earlier edition.</param>
    /// <param name="after">In the later edition, of the same area and species.</param>
    public static string? Moved(Trend before, Trend after)
    {
        bool word = TrendSentences.Label(before) != TrendSentences.Label(after);
        return (TrendSentences.HasInterval(before), TrendSentences.HasInterval(after)) switch
        {
            (false, true) => Say("editions.moves.rangeNow"),
            (true, false) => Say("editions.moves.noRangeNow"),
            (true, true) when Tenths(after.PercentPerSeason - before.PercentPerSeason) is { } points => Say("editions.moves.percent", ("points", points)),
            (true, true) => Named(("direction", word), ("range", TrendSentences.Change(before with { PercentPerSeason = after.PercentPerSeason }) != TrendSentences.Change(after)))
                ?? (TrendSentences.Change(before) == TrendSentences.Change(after) ? null : Say("editions.moves.percent", ("points", Under))),
            _ => Named(("direction", word)),
        };
    }

    /// <summary>A difference with its sign and one decimal; null where that shows none.</summary>
    private static string? Tenths(double? difference) => difference is { } moved && Math.Round(moved, 1, MidpointRounding.AwayFromZero) != 0 ? Phrases.WithSign(moved, "0.0") : null;

    /// <summary>Shown where the number of a result is rounded the other way and moved by less than a tenth.</summary>
    private static string Under => Say("editions.moves.under", ("tenth", Phrases.Number(0.1, "0.0")));

    private static string? Named(params (string Name, bool Moved)[] all)
    {
        var moved = all.Where(each => each.Moved).Select(each => Say($"editions.moves.{each.Name}")).ToList();
        return moved.Count == 0 ? null : Phrases.Join(moved);
    }
}
