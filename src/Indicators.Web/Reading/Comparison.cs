using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>A watershed's score beside those of the watersheds that hold it and of those beside it. Ordered by place, never by score.</summary>
internal sealed record Comparison(string Summary, FactTable? Table)
{
    public static Comparison Of(PublishedEdition edition, Area area, Condition? condition)
    {
        string name = PublishedEdition.NameOf(area);
        var around = edition.Tree.Around(area.Code).ToList();
        var beside = around.Count == 0 ? [] : around[^1].Children.Select(node => node.Area).Where(other => other.Code != area.Code).ToList();
        var latest = edition.LatestConditions();
        var others = around.Select(node => (node.Area, Name: CompareSentences.Holding(PublishedEdition.NameOf(node.Area))))
            .Concat(beside.Select(other => (Area: other, Name: PublishedEdition.NameOf(other))))
            .Select(other => (other.Area, other.Name, Condition: latest.GetValueOrDefault(other.Area.Code)))
            .Select(other => (other.Area, other.Name, other.Condition, Beside: CompareSentences.Of(condition, other.Condition))).ToList();
        string summary = CompareSentences.Summary(name, condition is { Lower: not null, Upper: not null }, [.. others.Select(other => other.Beside)]);
        return new Comparison(summary, others.Count == 0 ? null : new FactTable(
            CompareSentences.Caption(area.LastSeason, name),
            [.. CompareSentences.Columns(name).Select(column => new FactColumn(column))],
            [.. others.Select(other => new FactRow(
                Phrases.Capital(other.Name),
                [other.Condition is null ? Columns.None : ConditionSentences.Points(other.Condition) ?? Columns.None, CompareSentences.Label(other.Beside)],
                $"~/watersheds/{other.Area.Code}"))]));
    }

    /// <summary>The clearest difference between watersheds for one species; what overlaps is not put in order.</summary>
    public static string? OfSpecies(PublishedEdition edition, Id<Species> species, IReadOnlyList<Trend> smallest)
    {
        var known = smallest.Where(trend => trend is { LowerUnderlying: not null, UpperUnderlying: not null }).ToList();
        if (known.Count < 2)
            return null;
        var low = known.MinBy(trend => trend.UpperUnderlying)!;
        var high = known.MaxBy(trend => trend.LowerUnderlying)!;
        bool clear = low.UpperUnderlying < high.LowerUnderlying;
        return CompareSentences.OfSpecies(edition.NameOf(species), clear ? edition.NameOf(low.Area) : null, clear ? edition.NameOf(high.Area) : null);
    }
}
