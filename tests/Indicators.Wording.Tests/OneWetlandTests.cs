using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>Sentences of areas with one wetland, where stations are counted, and of series no longer than a span.</summary>
public sealed class OneWetlandTests
{
    private static readonly Trend Wetlands = TrendSweep.Of(-6.2, -4.1, -2.3, Direction.Down) with { Interval = IntervalKind.LostResamples, Lower = null, Upper = null };
    private static readonly Trend Stations = Wetlands with { Clusters = 1, InformativeClusters = 6 };

    private static string Paragraph(string language, Trend trend) => LanguageTests.In(language, () => TrendSentences.Paragraph(new TrendTopic(trend, "wood frog", "Marl Creek", TrendSweep.Options)));

    [Fact]
    public void Where_it_is_heard_too_rarely_more_of_what_is_counted_is_asked_for()
    {
        Assert.Contains("hear it at more wetlands.", Paragraph("en", Wetlands), StringComparison.Ordinal);
        Assert.Contains("hear it at more stations.", Paragraph("en", Stations), StringComparison.Ordinal);
        Assert.Contains("oírla en más humedales.", Paragraph("es", Wetlands), StringComparison.Ordinal);
        Assert.Contains("oírla en más estaciones.", Paragraph("es", Stations), StringComparison.Ordinal);
    }

    [Fact]
    public void A_concern_of_one_wetland_asks_for_more_stations()
    {
        static string Look(string language, Trend trend) => LanguageTests.In(language, () => SeasonSentences.Look(
            new Concern(trend.Area, trend, Evidence.Thin, null, 2, NextStep.AddWetlands), "Marl Creek", "wood frog", 0.95));
        var wetlands = TrendSweep.Beneath(TrendSweep.Of(-6.2, -4.1, -2.3, Direction.Down));
        var stations = wetlands with { Clusters = 1, InformativeClusters = 6 };
        Assert.EndsWith("Next: listen at more wetlands there.", Look("en", wetlands), StringComparison.Ordinal);
        Assert.EndsWith("Next: listen at more stations there.", Look("en", stations), StringComparison.Ordinal);
        Assert.EndsWith("Después: escuchar allí en más estaciones.", Look("es", stations), StringComparison.Ordinal);
    }

    [Fact]
    public void A_span_no_shorter_than_the_series_is_all_its_seasons()
    {
        var whole = new TrendVariant
        {
            Area = Wetlands.Area, Species = Wetlands.Species, Window = TrendWindow.Whole, Response = ResponseKind.CallLevel, Model = TrendModel.Raw,
            Status = TrendStatus.Estimated, Interval = IntervalKind.FewSeasons, FirstSeason = 2022, LastSeason = 2026, Clusters = 9, Stations = 9, Surveys = 90,
        };
        Assert.Equal("these are all its seasons", SpanSentences.Cell(null, whole));
        Assert.Equal("son todas sus temporadas", LanguageTests.In("es", () => SpanSentences.Cell(null, whole)));
        Assert.Equal("no range yet", SpanSentences.Cell(whole, whole));
        var unheard = whole with { Status = TrendStatus.NeverHeard, FirstSeason = null, LastSeason = null };
        Assert.Equal("not heard", SpanSentences.Cell(null, unheard));
        Assert.Equal("not heard", SpanSentences.Cell(unheard, unheard));
    }
}
