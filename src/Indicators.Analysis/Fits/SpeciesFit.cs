using Indicators.Analysis.Options;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>
/// One species in one area: the fits of the sample itself, and room for what every resample gives.
/// </summary>
internal sealed class SpeciesFit
{
    private ExpandedSlopes? _others;
    private double[][] _otherDraws = [];

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

    /// <summary>
    /// In a season without a call, in how many of its wetlands the species would have been heard, were it as common as in the baseline: the share of
    /// wetlands then, times those surveyed now. NaN in other seasons, and where the baseline carries no index.
    /// </summary>
    public double[] Missed { get; private init; } = [];

    /// <summary>T: seasons that tell something of a slope (<see cref="PanelCounts.InformativePeriods"/>).</summary>
    public int InformativeSeasons { get; private init; }

    /// <summary>Whether the baseline carries an index at all.</summary>
    public bool HasBaseline { get; private init; }

    /// <summary>The refits over the first p seasons, at [p]; null where no interval is promised.</summary>
    public SlopeRefits?[] Refits { get; private init; } = [null];

    /// <summary>Other windows and responses.</summary>
    public WindowFit[] Windows { get; private init; } = [];

    /// <summary><see cref="LogIndex"/> of each resample, resample after resample; NaN throughout when its baseline was lost.</summary>
    public double[] IndexDraws { get; private init; } = [];

    /// <summary>Fits the sample itself.</summary>
    /// <param name="series">The cells.</param>
    /// <param name="windows">Other windows and responses, whose resamples are fitted along.</param>
    /// <param name="options">Fewest clusters and seasons.</param>
    /// <param name="resamples">How many resamples there will be.</param>
    public static SpeciesFit Of(SpeciesSeries series, WindowFit[] windows, TrendOptions options, int resamples)
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
            if (slopes[p].Status == SlopeStatus.Finite && clusters[p] >= options.MinimumClusters && panel.InformativePeriods(p) >= options.MinimumSeasons)
                refits[p] = p == seasons
                    ? SlopeRefits.OfSeries(new SlopeToRefit(panel, p, slopes[p].Value), resamples)
                    : SlopeRefits.OfFirstSeasons(new SlopeToRefit(panel, p, slopes[p].Value), resamples);
        }
        int[] past = [.. Enumerable.Range(0, seasons).Where(p => refits[p] is not null)];
        WindowFit[] promised = [.. windows.Where(w => w.Refits is not null)];
        SlopeToRefit[] others =
        [
            .. past.Select(p => new SlopeToRefit(panel, p, slopes[p].Value)),
            .. promised.Select(w => new SlopeToRefit(w.Series.Panel!, w.Series.Panel!.Periods, w.Slope.Value)),
        ];
        var annual = PeriodFit.Of(panel, series.Baseline);
        var logIndex = new double[seasons];
        FillLogIndex(annual, series.Baseline, logIndex);
        return new SpeciesFit(series)
        {
            Slopes = slopes,
            Clusters = clusters,
            Effects = annual.Effects.ToArray(),
            LogIndex = logIndex,
            Missed = MissedWhereSilent(panel, series.Baseline, logIndex),
            InformativeSeasons = panel.InformativePeriods(seasons),
            HasBaseline = annual.Succeeded,
            Refits = refits,
            Windows = windows,
            _others = others.Length == 0 ? null : new ExpandedSlopes(others),
            _otherDraws = [.. past.Select(p => refits[p]!.SlopeDraws), .. promised.Select(w => w.Refits!.SlopeDraws)],
            IndexDraws = annual.Succeeded ? new double[resamples * seasons] : [],
        };
    }

    private static double[] MissedWhereSilent(PanelCounts panel, bool[] baseline, double[] logIndex)
    {
        var missed = new double[panel.Periods];
        Array.Fill(missed, double.NaN);
        if (!logIndex.Any(double.IsNegativeInfinity))
            return missed;
        int[] periods = [.. Enumerable.Range(0, panel.Periods)];
        int[] heard = [.. periods.Select(t => Wetlands(u => panel.Count(u, t) > 0))], surveyed = [.. periods.Select(t => Wetlands(u => panel.Exposure(u, t) > 0))];
        double share = periods.Where(t => baseline[t]).Sum(t => heard[t]) / (double)periods.Where(t => baseline[t]).Sum(t => surveyed[t]);
        // A season with calls can have an index of 0 too, where nothing else bounds it from below: that is no silence.
        foreach (int t in periods.Where(t => double.IsNegativeInfinity(logIndex[t]) && heard[t] == 0))
            missed[t] = share * surveyed[t];
        return missed;

        int Wetlands(Func<int, bool> counts) => Enumerable.Range(0, panel.Units).Where(counts).Select(panel.ClusterOf).Distinct().Count();
    }

    /// <summary>Lets go of what only the resamples needed, once they are done.</summary>
    /// <param name="andOfThePanel">Also of the panel, which is then made again for whoever looks at it.</param>
    public void LetGo(bool andOfThePanel)
    {
        (_others, _otherDraws) = (null, []);
        foreach (var refits in Refits)
            refits?.LetGo();
        foreach (var window in Windows)
            window.LetGo();
        if (andOfThePanel)
            Series.LetGo();
    }

    /// <summary>Fits a block of resamples and keeps what they give. Called from several threads, each for blocks of its own.</summary>
    public void Refit(ResampleBlock block, Workspace workspace)
    {
        _others?.Columns.Sum(block.Weights, workspace.OtherSums);
        for (int i = 0; i < block.Count; i++)
        {
            Refit(block.First + i, i, block.Of(i), workspace);
            if (workspace.Queued == PeriodRefits.Lanes)
                RefitQueued(block, workspace);
        }
        if (workspace.Queued > 0)
            RefitQueued(block, workspace);
    }

    private void Refit(int resample, int row, ReadOnlySpan<int> multiplicities, Workspace workspace)
    {
        var sample = workspace.Sample;
        sample.Fill(multiplicities);
        Refits[^1]?.Refit(resample, sample, workspace.Trend, workspace.Scratch);
        if (_others is not null)
        {
            _others.Refit(workspace.OtherSums.AsSpan(row * _others.Columns.Stride), multiplicities, workspace.Others!, SlopeRefits.OtherTolerance);
            for (int i = 0; i < _otherDraws.Length; i++)
                _otherDraws[i][resample] = workspace.Others!.Slopes[i];
            foreach (var window in workspace.Windows)
                window.KeepResiduals(resample, multiplicities);
        }
        if (HasBaseline)
            RefitIndex(resample, row, multiplicities, workspace);
    }

    /// <summary>
    /// Queues a resample for the fit of four at once, or fits it by itself where it does more than leave seasons silent to what can be compared in the
    /// sample.
    /// </summary>
    private void RefitIndex(int resample, int row, ReadOnlySpan<int> multiplicities, Workspace workspace)
    {
        var four = workspace.Four;
        var (linked, zero) = workspace.Annual.Compare(workspace.Sample, Series.Baseline);
        if (!four.Takes(workspace.Sample, linked))
        {
            RefitIndexAlone(resample, workspace);
            return;
        }
        four.Put(workspace.Queued, workspace.Sample, multiplicities);
        workspace.Queue[workspace.Queued++] = (resample, row, linked, zero);
    }

    /// <summary>Fits what is queued.</summary>
    private void RefitQueued(ResampleBlock block, Workspace workspace)
    {
        var four = workspace.Four;
        int queued = workspace.Queued, seasons = Series.Seasons.Length;
        workspace.Queued = 0;
        for (int lane = queued; lane < PeriodRefits.Lanes; lane++)
            four.Repeat(queued - 1, lane);
        var fitted = four.Fit();
        Span<bool> good = [fitted.Item1, fitted.Item2, fitted.Item3, fitted.Item4];
        for (int lane = 0; lane < queued; lane++)
        {
            var (resample, row, linked, zero) = workspace.Queue[lane];
            if (good[lane])
            {
                for (int t = 0; t < seasons; t++)
                    workspace.LaneEffects[t] = four.Effect(lane, t);
                FillLogIndex(workspace.LaneEffects, linked, zero, Series.Baseline, IndexDraws.AsSpan(resample * seasons, seasons));
            }
            else
            {
                workspace.Sample.Fill(block.Of(row));
                RefitIndexAlone(resample, workspace);
            }
        }
    }

    private void RefitIndexAlone(int resample, Workspace workspace)
    {
        int seasons = Series.Seasons.Length;
        workspace.Annual.Fit(workspace.Sample, Series.Baseline, Effects);
        FillLogIndex(workspace.Annual, Series.Baseline, IndexDraws.AsSpan(resample * seasons, seasons));
    }

    private static void FillLogIndex(PeriodFit fit, ReadOnlySpan<bool> baseline, Span<double> logIndex)
    {
        if (fit.Succeeded)
            FillLogIndex(fit.Effects, fit.Linked, fit.Zero, baseline, logIndex);
        else
            logIndex.Fill(double.NaN);
    }

    private static void FillLogIndex(ReadOnlySpan<double> effects, UInt128 linked, UInt128 zero, ReadOnlySpan<bool> baseline, Span<double> logIndex)
    {
        for (int t = 0; t < logIndex.Length; t++)
            logIndex[t] = (linked >> t & 1) != 0 ? effects[t]
                : (zero >> t & 1) != 0 ? double.NegativeInfinity
                : double.NaN;

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
    internal sealed class Workspace
    {
        public Workspace(SpeciesFit fit)
        {
            var panel = fit.Series.Panel!;
            (Sample, Trend, Annual) = (new Resample(panel), new TrendFit(panel.Periods), new PeriodFit(panel));
            Four = new PeriodRefits(panel, fit.Series.Baseline);
            LaneEffects = new double[panel.Periods];
            Others = fit._others is { } others ? new ExpandedSlopes.Workspace(others) : null;
            Windows = [.. fit.Windows.Where(w => w.Refits is not null).Select(w => new WindowFit.Workspace(w))];
            OtherSums = new double[ClusterColumns.Block * (fit._others?.Columns.Stride ?? 0)];
            Scratch = new double[SeasonResiduals.ScratchLength(panel)];
        }

        public Resample Sample { get; }

        public TrendFit Trend { get; }

        public PeriodFit Annual { get; }

        public PeriodRefits Four { get; }

        public (int Resample, int Row, UInt128 Linked, UInt128 Zero)[] Queue { get; } = new (int, int, UInt128, UInt128)[PeriodRefits.Lanes];

        public int Queued { get; set; }

        public double[] LaneEffects { get; }

        public ExpandedSlopes.Workspace? Others { get; }

        public WindowFit.Workspace[] Windows { get; }

        public double[] OtherSums { get; }

        public double[] Scratch { get; }
    }
}
