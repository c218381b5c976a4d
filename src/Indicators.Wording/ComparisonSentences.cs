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
        if (surveys is { Added: > 0, AddedFirst: { } first, AddedLast: { } last })
            said.Add(Say("editions.newData", ("n", surveys.Added), ("span", Phrases.Seasons(first, last))));
        Count("changed", surveys.Changed);
        Count("removed", surveys.Removed);
        Count("species", species);
        Count("expected", expected);
        If(EditionCauses.WithheldData, "withheld");
        Count("settings", settings);
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
    /// <param name="between">Whether editions lie between.</param>
    public static string? Apart(int causes, bool between) => causes switch
    {
        0 => null,
        1 => Say("editions.one"),
        _ => $"{Say("editions.several")} {Say(between ? "editions.between" : "editions.noneBetween")}",
    };

    /// <summary>How many trends moved.</summary>
    public static string TrendsCount(int moved, int compared) => Say("editions.trendsCount", ("moved", moved), ("n", compared));

    /// <summary>How many rows are left out.</summary>
    public static string More(int number) => Say("editions.more", ("n", number));

    /// <summary>How far a score moved; empty when that cannot be said.</summary>
    public static string Points(double? points) => points is { } moved ? Say("editions.column.points", ("points", Phrases.WithSign(moved, "0.0"))) : "";

    /// <summary>How far a slope moved; empty when that cannot be said.</summary>
    public static string Percent(double? percent) => percent is { } moved ? Say("editions.column.percent", ("points", Phrases.WithSign(moved, "0.0"))) : "";
}
