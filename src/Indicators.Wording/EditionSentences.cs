using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>What a reader should know of an edition as a whole.</summary>
public static class EditionSentences
{
    /// <summary>What a page says before anything was published.</summary>
    public const string NothingPublished = "Nothing has been published yet. Once the programme publishes its first results, they are shown here.";

    /// <summary>What a page says of an address that leads nowhere.</summary>
    public const string NotFound = "There is no page at this address. The place or the species may not be part of this edition.";

    /// <summary>What a page says after a fault of ours.</summary>
    public const string Failed = "Something went wrong on our side. The results are safe. Please try again in a while.";

    /// <summary>What a page says when the database cannot be read.</summary>
    public const string Unreadable = "We cannot read the results just now. Please tell the people who run this page.";

    /// <summary>One line that names an edition.</summary>
    public static string Line(long number, EditionCounts counts) =>
        FormattableString.Invariant($"Edition {number}, with surveys from {Phrases.Seasons(counts.FirstSeason, counts.LastSeason)}.");

    /// <summary>A warning of the edition as a sentence.</summary>
    public static string Warning(EditionWarning warning)
    {
        int n = warning.Count;
        return warning.Kind switch
        {
            EditionWarningKind.SurveysOutsideEveryWindow =>
                $"{Phrases.Count(n, "survey fell", "surveys fell")} outside all calling seasons, so {(n == 1 ? "it tells" : "they tell")} us nothing.",
            EditionWarningKind.StationsNeverSurveyed =>
                $"{Phrases.Count(n, "station has", "stations have")} no survey yet.",
            EditionWarningKind.SeriesNearCeiling =>
                $"In {Phrases.Count(n, "result", "results")} full choruses are common, and the scale can't show more than that.",
            EditionWarningKind.SeriesKeptBack =>
                $"{Phrases.Count(n, "result", "results")} of a species at risk {(n == 1 ? "is" : "are")} kept back, so that nobody can find its places.",
            _ => $"{Phrases.Count(n, "watershed has", "watersheds have")} no name yet.",
        };
    }
}
