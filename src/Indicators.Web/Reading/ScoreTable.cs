using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>One row of a score's explanation; its cells follow <see cref="ScoreTable.Parts"/>.</summary>
internal sealed record ScoreRow(string Name, IReadOnlyList<decimal?> Cells, decimal Together, decimal? Change);

/// <summary>
/// What holds a score below 100, by species and part, in tenths that add up along every row and column to the score shown.
/// </summary>
internal sealed record ScoreTable(decimal Score, IReadOnlyList<ScoreRow> Rows, ScoreRow Total, int Season, bool HasChange)
{
    public static IReadOnlyList<ScorePart> Parts { get; } =
        [ScorePart.Presence, ScorePart.Sensitivity, ScorePart.Calling, ScorePart.Direction];

    // A species that moves the score by less than this goes with the others. So does a protected one that is not told of
    // here, and nobody can tell which it was.
    private const double SmallPoints = 0.05;

    /// <summary>The table of a score, or null without a score.</summary>
    public static ScoreTable? Of(PublishedEdition edition, Condition condition, IReadOnlyList<Trend> told)
    {
        if (condition.Score is not { } score || condition.Lines.Count == 0)
            return null;
        var names = condition.Lines.Select(line => Name(edition, condition.Lines, line, told)).ToList();
        decimal shown = Apportion.Tenth(score);
        var cells = Apportion.Tenths([.. condition.Lines.Select(line => line.Points)], shown - 100);
        bool hasChange = condition.Lines.All(line => line.Change is not null);
        var changes = hasChange
            ? Apportion.Tenths([.. condition.Lines.Select(line => line.Change!.Value)], Apportion.Tenth(condition.Lines.Sum(line => line.Change!.Value)))
            : [];

        var rows = Enumerable.Range(0, names.Count).GroupBy(place => names[place]).Select(places => Row(places.Key, places.ToList()))
            .OrderBy(row => row.Name == Others).ThenBy(row => row.Together).ThenBy(row => row.Name, StringComparer.Ordinal).ToList();
        return new ScoreTable(shown, rows, Row(Columns.Together, Enumerable.Range(0, names.Count).ToList()), condition.Season, hasChange);

        ScoreRow Row(string name, IReadOnlyList<int> places) => new(
            name,
            [.. Parts.Select(part => places.Where(place => condition.Lines[place].Part == part).ToList()).Select(mine => mine.Count == 0 ? (decimal?)null : mine.Sum(place => cells[place]))],
            places.Sum(place => cells[place]),
            hasChange ? places.Sum(place => changes[place]) : null);
    }

    private static string Others => Columns.AllOthers;

    private static string Name(PublishedEdition edition, IReadOnlyList<ConditionLine> lines, ConditionLine line, IReadOnlyList<Trend> told)
    {
        if (line.Species is not { } id)
            return ConditionSentences.HeldAtHundred;
        bool small = lines.Where(each => each.Species == id).All(each => Math.Abs(each.Points) < SmallPoints && Math.Abs(each.Change ?? 0) < SmallPoints);
        return small || MustNotBeTold(edition, id, told) ? Others : Phrases.Capital(edition.NameOf(id));
    }

    private static bool MustNotBeTold(PublishedEdition edition, Id<Species> id, IReadOnlyList<Trend> told) =>
        edition.SpeciesOf(id) is null or { Protected: true } && told.All(trend => trend.Species != id);
}
