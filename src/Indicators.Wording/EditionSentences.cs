using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What a reader should know of an edition as a whole.</summary>
public static class EditionSentences
{
    /// <summary>What a page says before anything was published.</summary>
    public static string NothingPublished => Say("edition.nothingPublished");

    /// <summary>What a page says of an address that leads nowhere.</summary>
    public static string NotFound => Say("edition.notFound");

    /// <summary>What a page says after a fault of ours.</summary>
    public static string Failed => Say("edition.failed");

    /// <summary>What a page says when the database cannot be read.</summary>
    public static string Unreadable => Say("edition.unreadable");

    /// <summary>One line that names an edition.</summary>
    public static string Line(long number, EditionCounts counts) =>
        Say("edition.line", ("number", Phrases.Number(number, "0")), ("span", Phrases.Seasons(counts.FirstSeason, counts.LastSeason)));

    /// <summary>What a survey counts, where it is not the call level; else null.</summary>
    public static string? Counts(ResponseOptions response) =>
        response.Kind == ResponseKind.CallLevel ? null : Say("edition.counts", ("what", MethodSentences.Response(response)));

    /// <summary>A warning of the edition as a sentence.</summary>
    public static string Warning(EditionWarning warning) => Say(
        "edition.warning." + warning.Kind switch
        {
            EditionWarningKind.SurveysOutsideEveryWindow => "outsideWindows",
            EditionWarningKind.StationsNeverSurveyed => "neverSurveyed",
            EditionWarningKind.SeriesNearCeiling => "ceiling",
            EditionWarningKind.SeriesKeptBack => "keptBack",
            _ => "nameless",
        },
        ("n", warning.Count));
}
