using System.Globalization;
using Indicators.Wording;

namespace Indicators.Web.Serving;

/// <summary>What a page tells those who link to it: its address, its twins in other languages, and a sentence of its answer.</summary>
/// <param name="Address">Its address without an edition, in its language.</param>
/// <param name="Whole">The same with where the public finds us.</param>
/// <param name="Versions">Its whole address in every language.</param>
internal sealed record PageHead(string Address, string Whole, IReadOnlyList<(Language Language, string Address)> Versions)
{
    /// <summary>The key of the path a page is known by, where that is another than the one that was asked for.</summary>
    public const string PathKey = "Path";

    /// <summary>The key under which the layout finds the sentence.</summary>
    public const string AnswerKey = "Answer";

    /// <summary>Set for a page that no one should list.</summary>
    public const string UnlistedKey = "Unlisted";

    // What is shown under a link; longer is cut by those who show it, in the middle of a word.
    private const int LongestAnswer = 300;

    private const char HardSpace = '\u00A0';

    /// <param name="request">The request at hand.</param>
    /// <param name="address">Where the public finds us.</param>
    /// <param name="path">The path without a language; null for the one that was asked for.</param>
    public static PageHead Of(HttpRequest request, PublicAddress address, string? path)
    {
        string own = In(Language.Current);
        return new PageHead(own, address.Whole(request, own), [.. Language.All.Select(language => (language, address.Whole(request, In(language))))]);

        string In(Language language) => path is null ? LanguageByAddress.AddressIn(request, language) : LanguageByAddress.AddressOf(path, language);
    }

    /// <summary>Whole sentences of an answer, as many as are shown.</summary>
    public static string Shortened(string answer)
    {
        answer = answer.Replace(HardSpace, ' ').Trim();
        if (answer.Length <= LongestAnswer)
            return answer;
        int end = answer.LastIndexOf(". ", LongestAnswer, StringComparison.Ordinal);
        return end > 0 ? answer[..(end + 1)] : answer;
    }

    /// <summary>A language as the Open Graph protocol writes it, such as <c>en_US</c>.</summary>
    public static string Locale(Language language) => CultureInfo.CreateSpecificCulture(language.Tag).Name.Replace('-', '_');
}
