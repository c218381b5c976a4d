using System.Globalization;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>When species call: their windows, and the days they were heard.</summary>
public static class CalendarSentences
{
    /// <summary>The heading of the calendar.</summary>
    public static string Heading => Say("calendar.heading");

    /// <summary>The heading of one month, 1 to 12.</summary>
    public static string MonthHeading(int month) => Say("calendar.monthHeading", ("month", Month(month)));

    /// <summary>How many species call in a month.</summary>
    public static string InMonth(int month, int species) => species == 0
        ? Say("calendar.monthNone", ("month", Month(month)))
        : Say("calendar.monthSome", ("month", Month(month)), ("n", species));

    /// <summary>Which species starts next, and when.</summary>
    public static string Next(string species, AnnualDate day) => Say("calendar.monthNext", ("species", species), ("day", Phrases.Day(day)));

    /// <summary>When one species is heard here; its name opens the line.</summary>
    public static string Line(CallingTime time, string species) => time switch
    {
        { SurveysHeard: null } => Say("calendar.monthKept", ("species", species), ("first", Phrases.Day(time.Window.First)), ("last", Phrases.Day(time.Window.Last))),
        { FirstHeard: { } first, MedianHeard: { } median, LastHeard: { } last } => Say(
            "calendar.monthHeard", ("species", species), ("first", Phrases.Day(first)), ("median", Phrases.Day(median)), ("last", Phrases.Day(last))),
        _ => Say("calendar.monthUnheard", ("species", species)),
    };

    /// <summary>What days heard do not say.</summary>
    public static string OnlyListening => Say("calendar.onlyListening");

    /// <summary>How to read the calendar.</summary>
    public static string Legend => Say("calendar.legend");

    /// <summary>What the calendar shows, for those who do not see it.</summary>
    public static string Picture(string area, IReadOnlyList<(string Species, CallingWindow Window)> rows) => Say(
        "calendar.picture",
        ("area", area),
        ("n", rows.Count),
        ("first", string.Join(' ', rows.Select(row => Say(
            "calendar.pictureRow", ("species", row.Species), ("first", Phrases.Day(row.Window.First)), ("last", Phrases.Day(row.Window.Last)))))));

    /// <summary>What the table holds.</summary>
    public static string Caption(string area) => Say("calendar.caption", ("area", area));

    /// <summary>The table's columns after the species.</summary>
    public static IReadOnlyList<string> Columns =>
        [Say("calendar.season"), Say("calendar.first"), Say("calendar.median"), Say("calendar.last"), Say("calendar.surveysHeard")];

    /// <summary>The table's cells of one species.</summary>
    public static IReadOnlyList<string> Cells(CallingTime time)
    {
        string missing = time.SurveysHeard is null ? ChorusSentences.KeptBack : Say("calendar.never");
        return
        [
            Say("calendar.span", ("first", Phrases.Day(time.Window.First)), ("last", Phrases.Day(time.Window.Last))),
            Day(time.FirstHeard), Day(time.MedianHeard), Day(time.LastHeard),
            time.SurveysHeard is { } surveys ? Phrases.Count(surveys) : ChorusSentences.KeptBack,
        ];

        string Day(AnnualDate? day) => day is { } known ? Phrases.Day(known) : missing;
    }

    /// <summary>A month's name, 1 to 12.</summary>
    public static string Month(int month) => Say("calendar.month", ("month", month.ToString(CultureInfo.InvariantCulture)));

    /// <summary>All months, short, January first.</summary>
    public static IReadOnlyList<string> ShortMonths =>
        [.. Enumerable.Range(1, 12).Select(month => Say("calendar.monthShort", ("month", month.ToString(CultureInfo.InvariantCulture))))];
}
