using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Power;
using Indicators.Statistics.Panels;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests.Power;

/// <summary>Simulations rest on the engine itself: the same panel gives the same trend, to the tolerance of a fit.</summary>
public class PanelTrendsTests
{
    private const int Resamples = 200;

    [Fact]
    public void Panels_give_what_the_analysed_area_gives()
    {
        var data = Drawn(3, ["990101010101"], 9, 12, Frog("a"), Frog("b"), Frog("c"), Frog("d"));
        var settings = new ProgrammeSettings();
        var run = new RunOptions { Resamples = Resamples, Seed = 5 };
        var cells = CellTable.Build(data, null);
        var node = new AreaTree(cells)[Code("99")];
        var fit = AreaFit.Of(cells, node, settings, run, new ThreadGauge(), new ParallelOptions { MaxDegreeOfParallelism = 1 });
        PanelCounts[] panels = [.. fit.Species.Select(s => s.Series.Panel!)];

        var trends = PanelTrends.Of(panels, run.Seed, AreaFit.StreamOf(node.Representative), settings.Trend, Resamples);

        var told = ProgrammeAnalysis.Prepare(data, settings, run).Analyse(Code("99"), 1, TestContext.Current.CancellationToken).Trends;
        Assert.Equal(4, told.Count);
        Assert.All(told.Zip(trends), pair =>
        {
            var (engine, panel) = pair;
            // The engine's fit starts from that of one season less, so that the last digit or two may differ.
            Close(engine.PercentPerSeason, panel.Slope.Value);
            Close(engine.Lower, panel.Observed!.Value.Lower);
            Close(engine.Upper, panel.Observed.Value.Upper);
            Close(engine.LowerUnderlying, panel.Underlying!.Value.Lower);
            Close(engine.UpperUnderlying, panel.Underlying.Value.Upper);
            Assert.Equal(engine.SeasonSd!.Value, panel.SeasonSd, 1e-10);
            Assert.Equal((engine.Direction, engine.InformativeClusters), (panel.Direction, panel.Clusters));
        });
    }

    [Fact]
    public void Too_few_wetlands_or_seasons_give_no_interval()
    {
        static PanelCounts Panel(int units, int seasons) => new(
            [.. Enumerable.Range(0, seasons).Select(t => (double)t)],
            [.. Enumerable.Range(0, units * seasons).Select(i => (double)(1 + i * 7 % 4))],
            [.. Enumerable.Repeat(3.0, units * seasons)]);
        var options = new TrendOptions();

        Assert.All([Panel(options.MinimumClusters - 1, 12), Panel(12, options.MinimumSeasons - 1)], panel =>
        {
            var trend = PanelTrends.Of([panel], 1, 1, options, 50)[0];
            Assert.Null(trend.Observed);
            Assert.Null(trend.Underlying);
            Assert.True(double.IsFinite(trend.Slope.Value));
        });
        Assert.NotNull(PanelTrends.Of([Panel(options.MinimumClusters, options.MinimumSeasons)], 1, 1, options, 50)[0].Underlying);
    }

    private static void Close(double? percent, double log) => Assert.Equal(percent!.Value, 100 * double.ExpM1(log), 1e-10);
}
