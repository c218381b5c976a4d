using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>The trend of one species over one window of seasons or under one response other than the edition's.</summary>
internal sealed class WindowFit
{
    private WindowFit(TrendWindow window, ResponseKind response, SpeciesSeries series) => (Window, Response, Series) = (window, response, series);

    /// <summary>The seasons asked for.</summary>
    public TrendWindow Window { get; }

    /// <summary>What was made of a call level.</summary>
    public ResponseKind Response { get; }

    /// <summary>The cells.</summary>
    public SpeciesSeries Series { get; }

    /// <summary>The slope.</summary>
    public Slope Slope { get; private init; } = new(SlopeStatus.None, double.NaN, 0, 0);

    /// <summary>K.</summary>
    public int Clusters { get; private init; }

    /// <summary>The refits, or null where no interval is promised.</summary>
    public SlopeRefits? Refits { get; private init; }

    /// <summary>Stretched draws of the underlying slope, or null.</summary>
    public double[]? Underlying { get; set; }

    /// <summary>Standard deviation of the shared season shocks; NaN without draws.</summary>
    public double SeasonSd { get; set; } = double.NaN;

    /// <summary>ρ, how alike shocks of one season and the next were taken to be; NaN without draws.</summary>
    public double CarryOver { get; set; } = double.NaN;

    /// <summary>
    /// The window fits of one species: the last ten and five seasons and the seasons asked for, where they are fewer than the
    /// series has, under the edition's response; and the whole series under each other response.
    /// </summary>
    public static WindowFit[] Of(CellTable cells, AreaNode area, SpeciesSeries whole, AreaClusters clusters, ProgrammeSettings settings, RunOptions run)
    {
        int[] seasons = whole.Seasons;
        if (seasons.Length == 0)
            return [];
        var fits = new List<WindowFit>();
        var kind = settings.Response.Kind;
        if (seasons.Length > TrendWindows.Ten)
            Add(TrendWindow.Last10, kind, seasons[^TrendWindows.Ten], int.MaxValue);
        if (seasons.Length > TrendWindows.Five)
            Add(TrendWindow.Last5, kind, seasons[^TrendWindows.Five], int.MaxValue);
        if (run.WindowFrom is not null || run.WindowTo is not null)
            Add(TrendWindow.Asked, kind, run.WindowFrom ?? int.MinValue, run.WindowTo ?? int.MaxValue);
        foreach (var other in Enum.GetValues<ResponseKind>())
        {
            if (other != kind && other != ResponseKind.Weighted)
                Add(TrendWindow.Whole, other, int.MinValue, int.MaxValue);
        }
        return [.. fits];

        void Add(TrendWindow window, ResponseKind response, int from, int to) => fits.Add(Fit(
            window, response, SpeciesSeries.Gather(cells, area, whole.Species, clusters, settings.Response.Of(response), settings.Baseline, from, to),
            settings.Trend, run.Resamples));
    }

    private static WindowFit Fit(TrendWindow window, ResponseKind response, SpeciesSeries series, TrendOptions options, int resamples)
    {
        if (series.Panel is not { } panel)
            return new WindowFit(window, response, series);
        int periods = panel.Periods, clusters = panel.InformativeClusters(periods);
        var slope = new TrendFit(periods).Fit(new Resample(panel), periods, 0, 1e-13);
        bool promised = slope.Status == SlopeStatus.Finite && clusters >= options.MinimumClusters && panel.InformativePeriods(periods) >= options.MinimumSeasons;
        return new WindowFit(window, response, series)
        {
            Slope = slope,
            Clusters = clusters,
            Refits = promised ? SlopeRefits.OfWindow(new SlopeToRefit(panel, periods, slope.Value), resamples) : null,
        };
    }

    /// <summary>Lets go of what only the resamples needed.</summary>
    public void LetGo()
    {
        Refits?.LetGo();
        Series.LetGo();
    }

    /// <summary>What one thread needs for the residuals of one window.</summary>
    internal sealed class Workspace(WindowFit fit)
    {
        private readonly Resample _sample = new(fit.Series.Panel!);
        private readonly double[] _scratch = new double[SeasonResiduals.ScratchLength(fit.Series.Panel!)];

        /// <summary>Keeps the residuals of one resample about its slope, of the first resamples.</summary>
        public void KeepResiduals(int resample, ReadOnlySpan<int> multiplicities)
        {
            if (resample >= fit.Refits!.ResidualResamples)
                return;
            _sample.Fill(multiplicities);
            fit.Refits.KeepResiduals(resample, _sample, _scratch);
        }
    }
}

/// <summary>How long the windows are.</summary>
internal static class TrendWindows
{
    /// <summary>Ten seasons, about the ten years of IUCN criterion A.</summary>
    public const int Ten = 10;

    /// <summary>Five seasons, the fewest that carry an interval.</summary>
    public const int Five = 5;
}
