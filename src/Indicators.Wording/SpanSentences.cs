using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>Trends over shorter spans of seasons, and of species put together.</summary>
public static class SpanSentences
{
    /// <summary>The heading.</summary>
    public static string Heading => Say("window.heading");

    /// <summary>What the table holds.</summary>
    public static string Caption => Say("window.caption");

    /// <summary>How to read it.</summary>
    public static string Meaning => Say("window.meaning");

    /// <summary>A span's name.</summary>
    public static string Name(TrendWindow window) => window switch
    {
        TrendWindow.Last10 => Say("window.last10"),
        TrendWindow.Last5 => Say("window.last5"),
        _ => Say("window.whole"),
    };

    /// <summary>The change of one span with its range and the chance of decline.</summary>
    /// <param name="variant">The span; null where the series has no more seasons than the span.</param>
    /// <param name="whole">The whole series.</param>
    public static string Cell(TrendVariant? variant, TrendVariant whole) =>
        whole.Status == TrendStatus.NeverHeard ? Say("trend.table.unheard")
        : variant is null ? Say("window.same")
        : variant is { LowerUnderlying: var lower, UpperUnderlying: var upper, ProbabilityOfDecline: { } decline, SeasonSd: not null }
            ? Say("window.cell", ("change", Change(variant.PercentPerSeason, lower, upper)), ("chance", Phrases.Chance(decline)))
            : Say("window.none");

    /// <summary>The heading over groups of species.</summary>
    public static string GroupHeading => Say("group.heading");

    /// <summary>What the table of groups holds.</summary>
    public static string GroupCaption => Say("group.caption");

    /// <summary>What its ranges are about.</summary>
    public static string GroupMeaning => Say("group.meaning");

    /// <summary>The table's columns.</summary>
    public static IReadOnlyList<string> GroupColumns => [Say("group.name"), Say("group.change"), Say("group.chance"), Say("group.species")];

    /// <summary>A group's name.</summary>
    public static string Name(SpeciesGroup group) => group switch
    {
        SpeciesGroup.EarlySeason => Say("group.early"),
        SpeciesGroup.Summer => Say("group.summer"),
        SpeciesGroup.HighConservatism => Say("group.particular"),
        _ => Say("group.all"),
    };

    /// <summary>A group's cells.</summary>
    public static IReadOnlyList<string> Cells(GroupTrend trend) =>
    [
        trend.PercentPerSeason is null ? Say("group.fewer")
            : trend.ProbabilityOfDecline is null ? Say("window.none")
            : $"{TrendSentences.Label(trend.Direction)}: {Change(trend.PercentPerSeason, trend.LowerUnderlying, trend.UpperUnderlying)}",
        trend.ProbabilityOfDecline is { } decline ? Phrases.Chance(decline) : "",
        Phrases.Count(trend.Species),
    ];

    private static string Change(double? percent, double? lower, double? upper)
    {
        string range = ChangeWords.Range(lower, upper, percent);
        return percent is { } known ? $"{ChangeWords.Amount(known, lower, upper)} ({range})" : Phrases.Capital(range);
    }
}
