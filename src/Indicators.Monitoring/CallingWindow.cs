using NodaTime;
using NodaTime.Text;

namespace Indicators.Monitoring;

/// <summary>
/// The part of the year in which a species calls, from its first to its last day, both included.
/// A window whose last day comes before its first wraps the year's end.
/// </summary>
/// <remarks>
/// A survey outside a species' window says nothing about that species: silence there is not absence.
/// 29 February may begin or end a window; in a common year it stands for 28 February.
/// </remarks>
/// <param name="First">The first day of calling.</param>
/// <param name="Last">The last day of calling.</param>
public readonly record struct CallingWindow(AnnualDate First, AnnualDate Last)
{
    private static readonly AnnualDatePattern Pattern = AnnualDatePattern.CreateWithInvariantCulture("MM'-'dd");

    /// <summary>Reads one end of a window, written MM-DD.</summary>
    public static Parsed<AnnualDate> ParseDay(string text)
    {
        var result = Pattern.Parse(text.Trim());
        return result.Success ? result.Value : new FieldProblem(text, "a day of the year", "a month and a day as MM-DD, such as 04-15");
    }

    /// <summary>Whether the window runs over the year's end.</summary>
    public bool Wraps => Last.CompareTo(First) < 0;

    /// <summary>Whether a survey of this evening can say something about the species.</summary>
    public bool Contains(LocalDate date) => SeasonOf(date) is not null;

    /// <summary>
    /// The season a date belongs to: the calendar year in which the window opened. Null when the date is outside the window.
    /// </summary>
    public int? SeasonOf(LocalDate date)
    {
        var first = First.InYear(date.Year);
        var last = Last.InYear(date.Year);
        if (!Wraps)
            return date >= first && date <= last ? date.Year : null;
        if (date >= first)
            return date.Year;
        return date <= last ? date.Year - 1 : null;
    }

    /// <summary>Both ends as MM-DD.</summary>
    public override string ToString() => $"{Pattern.Format(First)} to {Pattern.Format(Last)}";

    /// <summary>One end as MM-DD, the way <see cref="ParseDay"/> reads it.</summary>
    public static string FormatDay(AnnualDate day) => Pattern.Format(day);
}
