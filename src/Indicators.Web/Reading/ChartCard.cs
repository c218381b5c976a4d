using System.Text.Json;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Charts;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>One row of the table under a chart.</summary>
internal sealed record ChartRow(int Season, string Value, string? MeanCallLevel, string? Stations, string Rests);

/// <summary>A chart with its heading, its sentences and its table.</summary>
internal sealed record ChartCard
{
    public required string Title { get; init; }

    public string? Href { get; init; }

    public Trend? Trend { get; init; }

    public required IReadOnlyList<string> Sentences { get; init; }

    /// <summary>How well the trend is supported, and why; null without a trend or a grade.</summary>
    public string? Supported { get; init; }

    public ChartSeries? Series { get; init; }

    public string? Alternative { get; init; }

    public required IReadOnlyList<ChartRow> Rows { get; init; }

    /// <summary>What the last column of the table counts.</summary>
    public required string RestsOn { get; init; }

    /// <summary>Whether the band is cut at the top of the chart.</summary>
    public bool Cut => Series is not null && new ChartScale(Series, ChartSize.Small).Cuts;

    /// <summary>One species in one area.</summary>
    public static ChartCard Of(PublishedEdition edition, Trend trend, IEnumerable<IndexPoint> indices, IEnumerable<SmoothPoint> smooth, SeriesEvidence? evidence, string title, string href)
    {
        var points = indices.ToList();
        var topic = edition.Topic(trend);
        var all = points.Count == 0 ? null : ChartSeries.Of(points, smooth);
        bool lined = all is { HasBand: true };
        var series = lined ? all : all?.WithoutLine();
        bool drawn = lined || series is { HasDots: true };
        string? missing = lined || trend.Status == TrendStatus.NeverHeard ? null : drawn ? IndexSentences.DotsOnly : IndexSentences.NoIndex(points);
        return new ChartCard
        {
            Title = title,
            Href = href,
            Trend = trend,
            Sentences = [.. new[] { TrendSentences.Paragraph(topic), missing }.OfType<string>()],
            Supported = EvidenceSentences.Answer(evidence, trend),
            Series = drawn ? series : null,
            Alternative = drawn ? Describe(series!, topic.Species, topic.Area, trend) : null,
            RestsOn = Columns.Surveys,
            Rows = [.. points.Select(point => new ChartRow(
                point.Season,
                point.Status != IndexStatus.Estimated ? IndexSentences.Status(point.Status)
                    : lined ? IndexSentences.Value(point.Index, point.Lower, point.Upper) : IndexSentences.NoRange,
                IndexSentences.CallLevel(point.MeanCallLevel), ChorusSentences.Count(point.Stations), ChorusSentences.Count(point.Surveys)))],
        };
    }

    /// <summary>All species of one area together.</summary>
    public static ChartCard Of(PublishedEdition edition, Area area, IReadOnlyList<GroupIndexPoint> points)
    {
        var series = points.Count == 0 ? null : ChartSeries.Of(points);
        bool drawn = series is { HasBand: true };
        return new ChartCard
        {
            Title = Headings.AllTogether,
            Sentences = IndexSentences.Together(points, edition.Settings.Trend) is { } said ? [said] : [],
            Series = drawn ? series : null,
            Alternative = drawn ? Describe(series!, PageWords.TogetherInSentence, PublishedEdition.NameOf(area), null) : null,
            RestsOn = Columns.SpeciesCount,
            Rows = [.. points.Select(point => new ChartRow(
                point.Season, IndexSentences.Value(point.Index, point.Lower, point.Upper), null, null, Phrases.Count(point.Species)))],
        };
    }

    /// <summary>In how many wetlands of an area a species is, and may be; null when the edition cannot say, or keeps it back.</summary>
    public static ChartCard? Of(PublishedEdition edition, Area area, Id<Species> species, IReadOnlyList<OccupancyPoint> points)
    {
        if (points.Count == 0 || ChartSeries.Of(points) is not { HasBand: true } series)
            return null;
        return new ChartCard
        {
            Title = OccupiedSentences.ChartHeading(PublishedEdition.NameOf(area)),
            Sentences = [OccupiedSentences.Meaning],
            Series = series,
            Alternative = OccupiedSentences.Picture(edition.NameOf(species), PublishedEdition.NameOf(area), points),
            RestsOn = Columns.Wetlands,
            Rows = [.. points.Select(point => new ChartRow(point.Season, OccupiedSentences.Estimate(point), null, null, Phrases.Count(point.Wetlands)))],
        };
    }

    /// <summary>The table under it: what was heard beside the estimate.</summary>
    public static FactTable Table(string caption, IReadOnlyList<OccupancyPoint> points) => new(
        caption,
        [new(Columns.Season), .. OccupiedSentences.Columns.Select(name => new FactColumn(name, true))],
        [.. points.Select(point => new FactRow(Phrases.Season(point.Season), OccupiedSentences.Cells(point)))],
        Headings.TableOf(caption));

    /// <summary>The chart for the script that draws it with values to point at.</summary>
    public string Json()
    {
        var points = Series!.Points;
        var scale = new ChartScale(Series, ChartSize.Wide);
        return JsonSerializer.Serialize(new
        {
            seasons = Enumerable.Range(Series.FirstSeason, Series.LastSeason - Series.FirstSeason + 1),
            top = scale.Top,
            step = scale.Step,
            baseline = scale.HasBaseline ? ChartScale.Baseline : (double?)null,
            end = Series.End,
            points = points.Select((point, place) => new
            {
                season = point.Season,
                index = point.Index,
                lower = point.Lower,
                upper = point.Upper,
                dot = point.Dot,
                smooth = point.Smooth,
                tip = IndexSentences.Tip(point.Season, Rows[place].Value),
            }),
        });
    }

    private static string Describe(ChartSeries series, string species, string area, Trend? trend) => series.Last is { } last
        ? IndexSentences.Alternative(species, area, series.FirstSeason, last.Season, IndexSentences.Value(last.Index, last.Lower, last.Upper), trend)
        : IndexSentences.DotsAlternative(species, area, series.FirstSeason, series.LastSeason, trend!);
}
