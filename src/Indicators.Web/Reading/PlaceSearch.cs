using System.Globalization;
using System.Text;
using Indicators.Analysis.Results;

namespace Indicators.Web.Reading;

/// <summary>
/// Finds places by name: the whole name first, then names that begin with what was typed, then words that do, then names
/// that hold it, then names that hold each of its words. Case, accents and signs do not count.
/// </summary>
internal sealed class PlaceSearch
{
    /// <summary>More letters than this are no place name.</summary>
    public const int LongestQuery = 100;

    private readonly IReadOnlyList<(string Folded, GazetteerEntry Entry)> _entries;

    public PlaceSearch(IEnumerable<GazetteerEntry> entries) => _entries = [.. entries.Select(entry => (Fold(entry.Name), entry))];

    /// <summary>The places, best first; larger kinds before smaller ones of the same fit.</summary>
    public IReadOnlyList<GazetteerEntry> Find(string query, int most)
    {
        // Never between the two halves of one letter.
        int length = query.Length <= LongestQuery ? query.Length : char.IsHighSurrogate(query[LongestQuery - 1]) ? LongestQuery - 1 : LongestQuery;
        string wanted = Fold(query[..length]);
        if (wanted.Length == 0)
            return [];
        string[] words = wanted.Split(' ');
        return
        [
            .. _entries.Select(each => (each.Entry, Fit: Fit(each.Folded, wanted, words))).Where(each => each.Fit is not null)
                .OrderBy(each => each.Fit).ThenBy(each => each.Entry.Kind).ThenBy(each => each.Entry.Name, StringComparer.OrdinalIgnoreCase)
                .ThenBy(each => each.Entry.Area).ThenBy(each => each.Entry.Wetland, StringComparer.Ordinal)
                .Select(each => each.Entry).Take(most),
        ];
    }

    /// <summary>Whether a name is the one that was typed.</summary>
    public static bool IsWhole(GazetteerEntry entry, string query) => Fold(entry.Name) == Fold(query);

    private static int? Fit(string name, string wanted, string[] words)
    {
        if (name == wanted) return 0;
        if (name.StartsWith(wanted, StringComparison.Ordinal)) return 1;
        if (name.Contains(" " + wanted, StringComparison.Ordinal)) return 2;
        if (name.Contains(wanted, StringComparison.Ordinal)) return 3;
        return Array.TrueForAll(words, word => name.Contains(word, StringComparison.Ordinal)) ? 4 : null;
    }

    /// <summary>Small letters without accents, digits, and single spaces for everything else.</summary>
    internal static string Fold(string text)
    {
        var folded = new StringBuilder(text.Length);
        foreach (var rune in text.Normalize(NormalizationForm.FormKD).EnumerateRunes())
        {
            if (Rune.IsLetterOrDigit(rune))
                folded.Append(Unaccented(Rune.ToLowerInvariant(rune)));
            else if (!LeavesNothing(rune) && folded.Length > 0 && folded[^1] != ' ')
                folded.Append(' ');
        }
        return folded.ToString().TrimEnd();
    }

    private static bool LeavesNothing(Rune sign) =>
        sign.Value is '\'' or '\u2019' or '.' || Rune.GetUnicodeCategory(sign) == UnicodeCategory.NonSpacingMark;

    // Letters that Unicode does not take apart into a plain one and a mark.
    private static string Unaccented(Rune letter) => letter.Value switch
    {
        'ø' => "o",
        'ł' => "l",
        'đ' or 'ð' => "d",
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'þ' => "th",
        'ı' => "i",
        _ => letter.ToString(),
    };
}
