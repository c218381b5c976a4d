using System.Globalization;

namespace Indicators.Wording;

/// <summary>What a page says when it shows another edition than today's.</summary>
public static class EarlierEditionSentences
{
    /// <summary>Above the results of an earlier edition.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="lastSeason">The last season it holds.</param>
    public static string Notice(long number, int lastSeason) => string.Create(
        CultureInfo.InvariantCulture, $"This is an earlier edition, number {number}, with surveys up to {Phrases.Season(lastSeason)}.");

    /// <summary>The words of the link to the same page in today's edition.</summary>
    /// <param name="number">Today's number.</param>
    public static string ToTodays(long number) => string.Create(CultureInfo.InvariantCulture, $"Go to today's edition, number {number}");

    /// <summary>What stands in place of a page of an edition there is not.</summary>
    public const string Unknown = "There is no page for this edition. Its number may be wrong, or it was never published.";
}
