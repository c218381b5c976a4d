using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Changes;

/// <summary>Intervals of many log ratios of sums over an area's wetlands, from the area's own resamples.</summary>
internal sealed class ChangeDraws
{
    /// <summary>Sums a comparison needs: calls and effort before, calls and effort now, shared calls now and before.</summary>
    public const int Columns = 6;

    private readonly double[][] _all;
    private readonly double[][] _shared;
    private readonly TrendOptions _options;

    private ChangeDraws(double[][] all, double[][] shared, TrendOptions options) => (_all, _shared, _options) = (all, shared, options);

    /// <summary>Draws every comparison's ratios.</summary>
    /// <param name="plan">The area's plan.</param>
    /// <param name="columns">Six sums a cluster, comparison after comparison.</param>
    /// <param name="options">Confidence and the share that may be lost.</param>
    /// <param name="resamples">How many.</param>
    /// <param name="parallel">How many threads may work.</param>
    public static ChangeDraws Of(ResamplingPlan plan, IReadOnlyList<double[]> columns, TrendOptions options, int resamples, ParallelOptions parallel)
    {
        int wide = columns.Count * Columns, clusters = plan.Clusters;
        var values = new double[wide * clusters];
        for (int i = 0; i < columns.Count; i++)
            for (int c = 0; c < clusters; c++)
                columns[i].AsSpan(c * Columns, Columns).CopyTo(values.AsSpan(c * wide + i * Columns));
        var sums = new ClusterSums([.. Enumerable.Range(0, clusters)], values, wide);
        double[][] all = [.. columns.Select(_ => new double[resamples])], shared = [.. columns.Select(_ => new double[resamples])];
        ResampleBlock.Each(plan, resamples, parallel, () => new double[sums.SumsLength], (block, work) =>
        {
            sums.Sum(block.Weights, work);
            for (int i = 0; i < columns.Count; i++)
            {
                int at = i * Columns * ClusterSums.Block;
                for (int b = 0; b < block.Count; b++)
                {
                    double Sum(int column) => work[at + column * ClusterSums.Block + b];
                    all[i][block.First + b] = Sum(2) * Sum(1) / (Sum(3) * Sum(0));
                    shared[i][block.First + b] = Sum(4) / Sum(5);
                }
            }
        });
        return new ChangeDraws(all, shared, options);
    }

    /// <summary>The interval of a comparison's log ratio over all surveys.</summary>
    public (double? Lower, double? Upper) All(int comparison, double log, int clusters) => IntervalOf(_all[comparison], log, clusters);

    /// <summary>The same over what both times share.</summary>
    public (double? Lower, double? Upper) Shared(int comparison, double log, int clusters) => IntervalOf(_shared[comparison], log, clusters);

    /// <summary>
    /// Quantiles of the ratios, then stretched about the estimate on the log scale: the log keeps order, so these are the ends of
    /// the logs' own interval but for the step between two neighbours.
    /// </summary>
    private (double? Lower, double? Upper) IntervalOf(double[] ratios, double log, int clusters)
    {
        if (clusters < _options.MinimumClusters)
            return (null, null);
        int kept = 0;
        foreach (double ratio in ratios)
        {
            if (!double.IsNaN(ratio))
                ratios[kept++] = ratio;
        }
        if (kept == 0 || ratios.Length - kept > _options.MaximumLostShare * ratios.Length)
            return (null, null);
        var ends = BootstrapInterval.PercentileInPlace(ratios.AsSpan(0, kept), _options.Confidence);
        double factor = BootstrapInterval.Stretch(clusters, _options.Confidence);
        return (End(ends.Lower), End(ends.Upper));

        double? End(double ratio) =>
            Math.Log(ratio) is var end && double.IsFinite(end) ? BootstrapInterval.Stretched(log, end, factor) : null;
    }
}
