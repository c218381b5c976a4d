using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What a page says when it shows another edition than today's.</summary>
public static class EarlierEditionSentences
{
    /// <summary>Above the results of an earlier edition.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="lastSeason">The last season it holds.</param>
    public static string Notice(long number, int lastSeason) =>
        Say("edition.earlier.notice", ("number", Phrases.Number(number, "0")), ("season", Phrases.Season(lastSeason)));

    /// <summary>The words of the link to the same page in today's edition.</summary>
    /// <param name="number">Today's number.</param>
    public static string ToTodays(long number) => Say("edition.earlier.toTodays", ("number", Phrases.Number(number, "0")));

    /// <summary>What stands in place of a page of an edition there is not.</summary>
    public static string Unknown => Say("edition.earlier.unknown");
}
