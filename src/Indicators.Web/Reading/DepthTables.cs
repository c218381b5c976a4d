using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>Tables of what stands beside the trends over the whole series: shorter spans, groups of species, occupancy.</summary>
internal static class DepthTables
{
    private static readonly TrendWindow[] Spans = [TrendWindow.Whole, TrendWindow.Last10, TrendWindow.Last5];

    /// <summary>One row a species: its change over three spans; null when the edition has none.</summary>
    public static FactTable? Windows(PublishedEdition edition, IReadOnlyList<TrendVariant> variants, IEnumerable<Id<Species>> order)
    {
        if (variants.Count == 0)
            return null;
        var bySpan = variants.ToDictionary(variant => (variant.Species, variant.Window));
        return new FactTable(
            SpanSentences.Caption,
            [new(Columns.Species), .. Spans.Select(span => new FactColumn(SpanSentences.Name(span)))],
            [.. order.Where(species => bySpan.ContainsKey((species, TrendWindow.Whole))).Select(species => new FactRow(
                Phrases.Capital(edition.NameOf(species)),
                [.. Spans.Select(span => SpanSentences.Cell(bySpan.GetValueOrDefault((species, span))))],
                Href(species)))]);
    }

    /// <summary>One row a group of species; null when the edition has none.</summary>
    public static FactTable? Groups(IReadOnlyList<GroupTrend> groups) => groups.Count == 0 ? null : new FactTable(
        SpanSentences.GroupCaption,
        [.. SpanSentences.GroupColumns.Select((name, place) => new FactColumn(name, place > 1))],
        [.. groups.Select(group => new FactRow(SpanSentences.Name(group.Group), SpanSentences.Cells(group)))]);

    /// <summary>One row a species: wetlands that heard it and the share that may hold it, in the last season; null when the edition has none.</summary>
    public static FactTable? Occupied(PublishedEdition edition, IReadOnlyList<OccupancyPoint> points, int season)
    {
        var latest = points.Where(point => point.Season == season).OrderBy(point => edition.NameOf(point.Species), StringComparer.OrdinalIgnoreCase).ToList();
        return latest.Count == 0 ? null : new FactTable(
            OccupiedSentences.Caption(season),
            [new(Columns.Species), .. OccupiedSentences.Columns.Select(name => new FactColumn(name, true))],
            [.. latest.Select(point => new FactRow(Phrases.Capital(edition.NameOf(point.Species)), OccupiedSentences.Cells(point), Href(point.Species)))]);
    }

    private static string Href(Id<Species> species) => $"~/species/{Uri.EscapeDataString(species.ToString())}";
}
