using System.Xml.Linq;
using Indicators.Analysis.Results;
using Indicators.Web.Charts;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>What holds a score back most, in a sentence and in bars; the table has every line and adds up to the score.</summary>
internal sealed record HoldsBack(string? Most, IReadOnlyList<string> Parts, IReadOnlyList<string> Chances, XElement Picture)
{
    /// <summary>Null without a score, or when nothing holds it back.</summary>
    public static HoldsBack? Of(ScoreTable? score, Condition? condition)
    {
        var held = score?.Rows.Where(row => row.Together < 0).ToList() ?? [];
        if (score is null || condition is null || held.Count == 0)
            return null;
        var items = held.Select(row => (row.Name, Points: Tenths.Text(row.Together))).ToList();
        // Rows stand in order; what is no single species is not named in the sentence.
        var most = held.FirstOrDefault(row => row.Name != Columns.AllOthers && row.Name != ConditionSentences.HeldAtHundred);
        var longest = held.Max(row => -row.Together);
        return new HoldsBack(
            most is null ? null : HoldsBackSentences.Most(most.Name, Tenths.Text(most.Together)),
            [.. ScoreTable.Parts.Select((part, place) => HoldsBackSentences.Line(ConditionSentences.PartName(part), Tenths.Text(score.Total.Cells[place] ?? 0)))],
            HoldsBackSentences.Chances(condition),
            BarList.Draw(
                [.. held.Select((row, place) => new Bar(row.Name, (double)(-row.Together / longest), items[place].Points))],
                HoldsBackSentences.Picture(score.Season, items)));
    }
}
