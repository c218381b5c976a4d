using System.Text.RegularExpressions;

namespace Indicators.Wording.Tests;

/// <summary>How easily a Spanish text reads, with syllables counted by the rules of Spanish spelling.</summary>
/// <remarks>
/// Ease = 206.84 − 60 syllables/words − 1.02 words/sentences (Fernández Huerta 1959, in the corrected form of Law 2011, as read
/// with its table on the pages "Legible" of legible.es: 60 to 70 is the school's 7th or 8th grade, 70 to 80 the 6th).
/// Counting conventions, ours, as for English: a number is one word of one syllable, the sign % is read "por ciento".
/// </remarks>
internal static partial class SpanishReadability
{
    public static double Ease(string text)
    {
        var sentences = Readability.Sentences(text);
        var words = sentences.SelectMany(Words).ToList();
        return 206.84 - 60.0 * words.Sum(Syllables) / words.Count - 1.02 * words.Count / sentences.Count;
    }

    public static IReadOnlyList<string> Words(string sentence) =>
        Word().Matches(sentence.Replace("%", " por ciento ", StringComparison.Ordinal)).Select(match => match.Value).ToList();

    public static int Syllables(string word)
    {
        string lower = word.ToLowerInvariant();
        if (char.IsAsciiDigit(lower[0])) return 1;
        // The u of que, qui, gue and gui is silent; y after a vowel at the end sounds as i.
        lower = SilentU().Replace(lower, "$1");
        if (lower == "y") return 1;
        lower = FinalY().Replace(lower, "i");
        int syllables = 0;
        foreach (Match group in Vowels().Matches(lower))
            syllables += Nuclei().Count(group.Value);
        return Math.Max(1, syllables);
    }

    [GeneratedRegex(@"\d[\d,.\u00A0]*\d|\d|[\p{L}][\p{L}'\u2019-]*")]
    private static partial Regex Word();

    [GeneratedRegex("([qg])u(?=[eiéí])")]
    private static partial Regex SilentU();

    [GeneratedRegex("(?<=[aeou])y$")]
    private static partial Regex FinalY();

    [GeneratedRegex("[aeiouáéíóúü]+")]
    private static partial Regex Vowels();

    // A strong or an accented weak vowel makes a syllable and takes the weak ones beside it; weak ones alone make one together.
    [GeneratedRegex("[iuü]?[aeoáéó][iuü]?(?![íú])|[íú]|[aeoáéó]|[iuü]+")]
    private static partial Regex Nuclei();
}
