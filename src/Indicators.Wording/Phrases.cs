using Indicators.Wording.Messages;
using NodaTime;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The small joints of sentences: counts with their nouns, lists, spans of seasons, days.</summary>
public static class Phrases
{
    /// <summary>The space between a number and its unit, which no line break may part.</summary>
    public const string HardSpace = "\u00A0";

    /// <summary>A whole number with thousands set apart: <c>2,950</c>.</summary>
    public static string Count(int number) => Current.Digits.Whole(number);

    /// <summary>A count with its English noun, for sentences that are never translated: <c>1 survey</c>, <c>12 surveys</c>.</summary>
    public static string Count(int number, string one, string many) => $"{Count(number)}{HardSpace}{(number == 1 ? one : many)}";

    /// <summary>A number in the digits of the language.</summary>
    /// <param name="number">Any number.</param>
    /// <param name="format">A custom format, such as <c>0.0</c> or <c>0.##</c>.</param>
    public static string Number(double number, string format) => Current.Digits.Text(number, format);

    /// <summary>A number that says which side of nothing it is on, with a true minus sign; what rounds to nothing has no sign.</summary>
    /// <param name="number">Any number.</param>
    /// <param name="format">A custom format, such as <c>0.0</c>.</param>
    public static string WithSign(double number, string format)
    {
        string size = Number(Math.Abs(number), format);
        return !size.Any(letter => letter is >= '1' and <= '9') ? size : (number < 0 ? "\u2212" : "+") + size;
    }

    /// <summary>A season as people write a year: no thousands set apart.</summary>
    public static string Season(int season) => Number(season, "0");

    /// <summary>A span of seasons, both ends included: <c>2012 to 2026</c>, or <c>2012</c> alone.</summary>
    public static string Seasons(int first, int last) => first == last ? Season(first) : Say("phrase.seasons", ("first", Season(first)), ("last", Season(last)));

    /// <summary>From one value to another, in the words of the language: <c>2 to 6</c>.</summary>
    public static string Span(string first, string last) => Say("phrase.seasons", ("first", first), ("last", last));

    /// <summary>A day of the year: <c>1 April</c>.</summary>
    public static string Day(AnnualDate day) => Say("phrase.day", ("day", day.Day), ("month", Number(day.Month, "0")));

    /// <summary>A list as people say it: <c>a</c>, <c>a and b</c>, <c>a, b and c</c>.</summary>
    public static string Join(IReadOnlyList<string> items)
    {
        if (items.Count == 0)
            return "";
        string said = items[0];
        for (int place = 1; place < items.Count; place++)
            said = place + 1 < items.Count ? Say("phrase.listNext", ("items", said), ("next", items[place])) : Say("phrase.listLast", ("items", said), ("sound", Sound(items[place])), ("last", items[place]));
        return said;
    }

    // Spanish says e, not y, before the sound of i: "mala e indefinida", but "agua y hielo".
    private static string Sound(string words)
    {
        string sounded = words.TrimStart('h', 'H');
        bool clear = sounded.Length > 0 && sounded[0] is 'i' or 'I' or 'í' or 'Í';
        return clear && !(sounded.Length > 1 && "aeouáéóú".Contains(char.ToLowerInvariant(sounded[1]), StringComparison.Ordinal)) ? "i" : "other";
    }

    /// <summary>The same words with a capital at the front, to open a sentence.</summary>
    public static string Capital(string words) =>
        words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>The same words with a small letter at the front, to stand inside a line.</summary>
    public static string Small(string words) =>
        words.Length == 0 ? words : char.ToLowerInvariant(words[0]) + words[1..];

    /// <summary>A share from 0 to 1 as a whole percentage, with the ends kept honest: <c>92 %</c>, <c>more than 99 %</c>.</summary>
    public static string Share(double share) => share switch
    {
        > 0 and < 0.005 => Say("phrase.shareUnder"),
        < 1 and >= 0.995 => Say("phrase.shareOver"),
        _ => Say("phrase.share", ("whole", Number(100 * share, "0"))),
    };

    /// <summary>
    /// A chance from 0 to 1 that draws gave: never 0 % or 100 %, for however many draws agree, another might not.
    /// </summary>
    public static string Chance(double share) => Share(Math.Clamp(share, 0.001, 0.999));

    /// <summary>What stands for a value that a message may go without.</summary>
    internal const string None = "none";
}
