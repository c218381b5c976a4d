using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>A table of what stands beside the trends over the whole series, with its heading and how to read it.</summary>
internal sealed record Depth(string Id, string Heading, FactTable Table, string? Note)
{
    private static readonly TrendWindow[] Spans = [TrendWindow.Whole, TrendWindow.Last10, TrendWindow.Last5];

    /// <summary>Shorter spans, groups of species and occupancy of one area, as far as the edition has them.</summary>
    public static IReadOnlyList<Depth> Of(PublishedEdition edition, Area area, IReadOnlyList<Trend> trends)
    {
        Depth?[] all =
        [
            Windows(edition, edition.WindowsOf(area.Code), trends.Select(trend => trend.Species)) is { } windows
                ? new Depth("spans", SpanSentences.Heading, windows, SpanSentences.Meaning) : null,
            Groups(edition.GroupTrendsOf(area.Code)) is { } groups ? new Depth("groups", SpanSentences.GroupHeading, groups, SpanSentences.GroupMeaning) : null,
            Occupied(edition, edition.OccupancyOf(area.Code), area.LastSeason) is { } occupied
                ? new Depth("occupied", OccupiedSentences.Heading, occupied, OccupiedSentences.Meaning) : null,
        ];
        return [.. all.OfType<Depth>()];
    }

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
                [.. Spans.Select(span => SpanSentences.Cell(bySpan.GetValueOrDefault((species, span)), bySpan[(species, TrendWindow.Whole)]))],
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
