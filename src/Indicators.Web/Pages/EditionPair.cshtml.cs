using Indicators.Analysis.Results;
using Indicators.Application.Editions;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>Two editions side by side: what moved, and what can have moved it.</summary>
internal sealed class EditionPairModel(EditionShelf shelf, ComparisonShelf comparisons) : EditionPageModel(shelf)
{
    private const int LongestTable = 40;

    private PublishedEdition _before = null!;

    public EditionComparison Comparison { get; private set; } = null!;

    public IReadOnlyList<ConditionMove> Conditions { get; private set; } = [];

    public IReadOnlyList<TrendMove> Trends { get; private set; } = [];

    /// <summary>Trends that moved and are not in the table.</summary>
    public int TrendsMore { get; private set; }

    public int TrendsMoved { get; private set; }

    public int TrendsCompared { get; private set; }

    /// <summary>What moved enough to be told in other words.</summary>
    public string Answer { get; private set; } = "";

    public IActionResult OnGet(long a, long b)
    {
        if (!Open())
            return RedirectToPage("/Index");
        if (comparisons.Of(a, b) is not { } comparison
            || Shelf.ByNumber(comparison.Before.Number) is not { } before || Shelf.ByNumber(comparison.After.Number) is not { } after)
            return NotFound();
        if (a > b)
            return RedirectToPage("/EditionPair", new { a = b, b = a });
        (Comparison, _before) = (comparison, before);
        // An area that only repeats another would say everything twice.
        var shown = after.Tree.Shown.Concat(before.Tree.Shown).Select(node => node.Area.Code).ToHashSet();
        // What moved by less than a reader can see is no row.
        Conditions = [.. comparison.Conditions.Where(move => shown.Contains(move.Area) && ComparisonSentences.Moved(move.Before, move.After) is not null)];
        var moved = comparison.Trends.Where(move => shown.Contains(move.After.Area) && ComparisonSentences.Moved(move.Before, move.After) is not null).ToList();
        Trends = [.. moved.Take(LongestTable)];
        (TrendsMoved, TrendsMore) = (moved.Count, moved.Count - Trends.Count);
        TrendsCompared = after.Trends().Count(trend => shown.Contains(trend.Area) && before.AreaOf(trend.Area) is not null);
        Answer = ComparisonSentences.Answer(
            Conditions.Count(move => move is { Before: { } old, After: { } now } && ConditionSentences.Label(old) != ConditionSentences.Label(now)), moved.Count(move => move.NewWord), TrendsCompared);
        return Page();
    }

    public string NameOf(WatershedCode code) => Phrases.Capital(Edition.AreaOf(code) is null ? _before.NameOf(code) : Edition.NameOf(code));

    public string NameOf(Id<Species> species) => Phrases.Capital(Edition.SpeciesOf(species) is null ? _before.NameOf(species) : Edition.NameOf(species));

    public static string Condition(Condition? condition) =>
        condition is null ? ComparisonSentences.Column("empty") : ConditionSentences.Summary(condition);

    public static string ByCause(ConditionMove move) => ComparisonSentences.ByCause(move.ByCause.Select(step => (step.Causes, step.Before, step.After)));

    public static string ByCause(TrendMove move) => ComparisonSentences.ByCause(move.ByCause.Select(step => (step.Causes, step.Before, step.After)));

    public IReadOnlyList<(string Key, string? Before, string? After)> Details() =>
    [
        .. Comparison.Settings.Select(change => (change.Key, change.Before, change.After)),
        .. Comparison.Run.Concat(Comparison.Engine).Select(change => (change.What, (string?)change.Before, (string?)change.After)),
    ];
}
