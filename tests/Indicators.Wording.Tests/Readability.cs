using System.Text.RegularExpressions;

namespace Indicators.Wording.Tests;

/// <summary>The Flesch–Kincaid grade of a text, with syllables counted by rule.</summary>
/// <remarks>
/// Grade = 0.39 words/sentences + 11.8 syllables/words − 15.59 (Kincaid, Fishburne, Rogers and Chissom 1975).
/// Counting conventions, ours: a sentence ends at a full stop, question mark or exclamation mark before a space or the end;
/// a number is one word of one syllable; the sign % is read as the word percent.
/// </remarks>
internal static partial class Readability
{
    public static double Grade(string text)
    {
        var sentences = Sentences(text);
        var words = sentences.SelectMany(Words).ToList();
        return 0.39 * words.Count / sentences.Count + 11.8 * words.Sum(Syllables) / words.Count - 15.59;
    }

    public static IReadOnlyList<string> Sentences(string text) =>
        SentenceEnd().Split(text.Replace('\u00A0', ' ').Trim()).Where(part => part.Trim().Length > 0).ToList();

    public static IReadOnlyList<string> Words(string sentence) =>
        Word().Matches(sentence.Replace("%", " percent ", StringComparison.Ordinal)).Select(match => match.Value).ToList();

    public static int Syllables(string word)
    {
        string lower = word.ToLowerInvariant().Replace("'s", "s", StringComparison.Ordinal).Replace("\u2019", "'", StringComparison.Ordinal);
        if (char.IsAsciiDigit(lower[0])) return 1;
        if (Irregular.TryGetValue(lower, out int known)) return known;
        int groups = VowelGroup().Count(lower);
        if (SilentE().IsMatch(lower) || SilentEs().IsMatch(lower) || SilentEd().IsMatch(lower)) groups--;
        return Math.Max(1, groups);
    }

    // Words of our sentences that the rules miscount.
    private static readonly Dictionary<string, int> Irregular = new(StringComparer.Ordinal)
    {
        ["area"] = 3, ["watershed"] = 3, ["watersheds"] = 3, ["areas"] = 3, ["doing"] = 2, ["being"] = 2, ["doesn't"] = 2, ["didn't"] = 2, ["isn't"] = 2, ["something"] = 2, ["someone"] = 2,
    };

    [GeneratedRegex(@"(?<=[.!?])\s+")]
    private static partial Regex SentenceEnd();

    [GeneratedRegex(@"\d[\d,.]*\d|\d|[A-Za-z][A-Za-z'\u2019-]*")]
    private static partial Regex Word();

    [GeneratedRegex("[aeiouy]+")]
    private static partial Regex VowelGroup();

    [GeneratedRegex("[^aeiouyl]e$|[aeiouy]le$")]
    private static partial Regex SilentE();

    [GeneratedRegex("[^aeiouyscgxz]es$")]
    private static partial Regex SilentEs();

    [GeneratedRegex("[^aeiouytd]ed$")]
    private static partial Regex SilentEd();
}
