using Indicators.Analysis.Options;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>
/// One species in one area: the fits of the sample itself, and room for what every resample gives.
/// </summary>
internal sealed class SpeciesFit
{
    private SpeciesFit(SpeciesSeries series) => Series = series;

    public SpeciesSeries Series { get; }

    /// <summary>The slope over the first p seasons, at [p]; only [0] (none) when the species was never heard.</summary>
    public Slope[] Slopes { get; private init; } = [new(SlopeStatus.None, double.NaN, 0, 0)];

    /// <summary>The slope over all seasons.</summary>
    public Slope Slope => Slopes[^1];

    /// <summary>K over the first p seasons, at [p].</summary>
    public int[] Clusters { get; private init; } = [0];

    /// <summary>γ of each season, to start resamples from.</summary>
    public double[] Effects { get; private init; } = [];

    /// <summary>ln of the index over its baseline mean, one a season: −∞ for zero, NaN for none.</summary>
    public double[] LogIndex { get; private init; } = [];

    /// <summary>Whether the baseline carries an index at all.</summary>
    public bool HasBaseline { get; private init; }

    /// <summary>The refits over the first p seasons, at [p]; null where no interval is promised.</summary>
    public SlopeRefits?[] Refits { get; private init; } = [null];

    /// <summary><see cref="LogIndex"/> of each resample, resample after resample; NaN throughout when its baseline was lost.</summary>
    public double[] IndexDraws { get; private init; } = [];

    /// <summary>Fits the sample itself.</summary>
    public static SpeciesFit Of(SpeciesSeries series, TrendOptions options, int resamples)
    {
        if (series.Panel is not { } panel)
            return new SpeciesFit(series);
        int seasons = panel.Periods;
        var sample = new Resample(panel);
        var trend = new TrendFit(seasons);
        var slopes = new Slope[seasons + 1];
        var clusters = new int[seasons + 1];
        var refits = new SlopeRefits?[seasons + 1];
        slopes[0] = new Slope(SlopeStatus.None, double.NaN, 0, 0);
        for (int p = 1; p <= seasons; p++)
        {
            slopes[p] = trend.Fit(sample, p, slopes[p - 1].Value, 1e-13);
            clusters[p] = panel.InformativeClusters(p);
            if (slopes[p].Status == SlopeStatus.Finite && clusters[p] >= options.MinimumClusters && p >= options.MinimumSeasons)
                refits[p] = new SlopeRefits(panel, p, slopes[p].Value, resamples);
        }
        var annual = PeriodFit.Of(panel, series.Baseline);
        var logIndex = new double[seasons];
        FillLogIndex(annual, series.Baseline, logIndex);
        return new SpeciesFit(series)
        {
            Slopes = slopes,
            Clusters = clusters,
            Effects = annual.Effects.ToArray(),
            LogIndex = logIndex,
            HasBaseline = annual.Succeeded,
            Refits = refits,
            IndexDraws = annual.Succeeded ? new double[resamples * seasons] : [],
        };
    }

    /// <summary>Fits one resample and keeps what it gives. Called from several threads, each for resamples of its own.</summary>
    public void Refit(int resample, ReadOnlySpan<int> multiplicities, Workspace workspace)
    {
        var sample = workspace.Sample;
        sample.Fill(multiplicities);
        int seasons = Series.Seasons.Length;
        foreach (var refits in Refits)
            refits?.Refit(resample, sample, workspace.Trend, workspace.Scratch);
        foreach (var window in workspace.Windows)
            window.Refit(resample, multiplicities);
        if (!HasBaseline)
            return;
        workspace.Annual.Fit(sample, Series.Baseline, Effects);
        FillLogIndex(workspace.Annual, Series.Baseline, IndexDraws.AsSpan(resample * seasons, seasons));
    }

    private static void FillLogIndex(PeriodFit fit, ReadOnlySpan<bool> baseline, Span<double> logIndex)
    {
        if (!fit.Succeeded)
        {
            logIndex.Fill(double.NaN);
            return;
        }
        for (int t = 0; t < logIndex.Length; t++)
            logIndex[t] = fit.StatusOf(t) switch
            {
                PeriodStatus.Linked => fit.Effects[t],
                PeriodStatus.ForcedToZero => double.NegativeInfinity,
                _ => double.NaN,
            };

        // Relative to the largest baseline effect, so that nothing overflows; a silent baseline season adds nothing to the sum.
        double highest = double.NegativeInfinity, sum = 0;
        int count = 0;
        for (int t = 0; t < baseline.Length; t++)
            if (baseline[t]) (highest, count) = (Math.Max(highest, logIndex[t]), count + 1);
        for (int t = 0; t < baseline.Length; t++)
            if (baseline[t]) sum += Math.Exp(logIndex[t] - highest);
        double logMean = highest + Math.Log(sum / count);
        for (int t = 0; t < logIndex.Length; t++)
            logIndex[t] -= logMean;
    }

    /// <summary>What one thread needs for the refits of one species; made once, used for all its resamples.</summary>
    internal sealed class Workspace(PanelCounts panel, WindowFit[] windows)
    {
        public Resample Sample { get; } = new(panel);

        public TrendFit Trend { get; } = new(panel.Periods);

        public PeriodFit Annual { get; } = new(panel);

        public WindowFit.Workspace[] Windows { get; } = [.. windows.Where(w => w.Refits is not null).Select(w => new WindowFit.Workspace(w))];

        public double[] Scratch { get; } = new double[SeasonResiduals.ScratchLength(panel)];
    }
}
