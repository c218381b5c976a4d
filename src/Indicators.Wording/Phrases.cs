using System.Globalization;

namespace Indicators.Wording;

/// <summary>The small joints of English sentences: counts with their nouns, lists, spans of seasons.</summary>
public static class Phrases
{
    /// <summary>The space between a number and its unit, which no line break may part.</summary>
    public const string HardSpace = "\u00A0";

    /// <summary>A whole number with thousands set apart: <c>2,950</c>.</summary>
    public static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>A count with its noun: <c>1 survey</c>, <c>12 surveys</c>.</summary>
    public static string Count(int number, string one, string many) => $"{Count(number)}{HardSpace}{(number == 1 ? one : many)}";

    /// <summary>A season as people write a year: no thousands set apart.</summary>
    public static string Season(int season) => season.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A span of seasons, both ends included: <c>2012 to 2026</c>, or <c>2012</c> alone.</summary>
    public static string Seasons(int first, int last) => first == last ? Season(first) : $"{Season(first)} to {Season(last)}";

    /// <summary>A list as people say it: <c>a</c>, <c>a and b</c>, <c>a, b and c</c>.</summary>
    public static string Join(IReadOnlyList<string> items) => items.Count switch
    {
        0 => "",
        1 => items[0],
        _ => $"{string.Join(", ", items.Take(items.Count - 1))} and {items[^1]}",
    };

    /// <summary>The same words with a capital at the front, to open a sentence.</summary>
    public static string Capital(string words) =>
        words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>A share from 0 to 1 as a whole percentage, with the ends kept honest: <c>92 %</c>, <c>more than 99 %</c>.</summary>
    public static string Share(double share) => share switch
    {
        > 0 and < 0.005 => $"less than 1{HardSpace}%",
        < 1 and >= 0.995 => $"more than 99{HardSpace}%",
        _ => $"{(100 * share).ToString("0", CultureInfo.InvariantCulture)}{HardSpace}%",
    };
}
