using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Power;

/// <summary>
/// The engine's trends with both intervals, of panels that did not come from surveys: for simulation. The same numbers as
/// an analysed area's, as far as a fit's tolerance of 1e-13 goes, and nothing else of what an area gets.
/// </summary>
public static class PanelTrends
{
    /// <summary>Fits panels that share their clusters and seasons, jointly, as the species of one area.</summary>
    /// <param name="panels">At least one panel; all with the same clusters and times.</param>
    /// <param name="seed">The run's seed.</param>
    /// <param name="stream">Tells areas apart.</param>
    /// <param name="options">Confidence and smallest samples.</param>
    /// <param name="resamples">How many resamples.</param>
    /// <param name="carryOver">How alike neighbouring springs are, 0 to 1; null to estimate it from these panels, as an area's analysis does from its species.</param>
    /// <returns>One trend a panel, in order.</returns>
    public static PanelTrend[] Of(
        IReadOnlyList<PanelCounts> panels, ulong seed, ulong stream, TrendOptions options, int resamples, double? carryOver = null)
    {
        int seasons = panels[0].Periods, clusters = panels[0].ClusterCount;
        var slopes = new Slope[panels.Count];
        var informative = new int[panels.Count];
        var refits = new SlopeRefits?[panels.Count];
        var plan = new ResamplingPlan(seed, stream, clusters);
        var multiplicities = new int[clusters];
        for (int k = 0; k < panels.Count; k++)
        {
            var panel = panels[k];
            slopes[k] = TrendFit.Of(panel);
            informative[k] = panel.InformativeClusters(seasons);
            if (slopes[k].Status != SlopeStatus.Finite || informative[k] < options.MinimumClusters || panel.InformativePeriods(seasons) < options.MinimumSeasons)
                continue;
            refits[k] = SlopeRefits.OfSeries(new SlopeToRefit(panel, seasons, slopes[k].Value), resamples);
            var sample = new Resample(panel);
            var fit = new TrendFit(seasons);
            var scratch = new double[SeasonResiduals.ScratchLength(panel)];
            for (int b = 0; b < resamples; b++)
            {
                plan.Draw(b, multiplicities);
                sample.Fill(multiplicities);
                refits[k]!.Refit(b, sample, fit, scratch);
            }
        }

        int[] joint = [.. Enumerable.Range(0, panels.Count).Where(k => refits[k] is not null)];
        var underlying = joint.Length == 0 ? null : new UnderlyingSlopes(
            [.. joint.Select(k => new ShockSeries(
                slopes[k].Value, refits[k]!.SlopeDraws, refits[k]!.Residuals, refits[k]!.ResidualDraws, [.. panels[k].Times.Select(t => (int)t)], informative[k]))],
            UnderlyingFit.Normals(new NormalDraws(seed, stream), panels.Count, resamples, new ParallelOptions { MaxDegreeOfParallelism = 1 }),
            carryOver);
        return [.. Enumerable.Range(0, panels.Count).Select(k => refits[k] is not { } made
            ? new PanelTrend { Panel = panels[k], Slope = slopes[k], Clusters = informative[k] }
            : Told(panels[k], slopes[k], informative[k], made.SlopeDraws, underlying!, Array.IndexOf(joint, k), options))];
    }

    private static PanelTrend Told(
        PanelCounts panel, Slope slope, int clusters, double[] slopeDraws, UnderlyingSlopes underlying, int at, TrendOptions options)
    {
        var trend = new PanelTrend
        {
            Panel = panel,
            Slope = slope,
            Clusters = clusters,
            SlopeDraws = slopeDraws,
            SeasonSd = underlying.SeasonSd(at),
            Variances = underlying.Variances(at),
        };
        using var observed = Draws.Stretched(slopeDraws, 0, 1, slope.Value, BootstrapInterval.Stretch(clusters, options.Confidence));
        if (observed.TooManyLost(options))
            return trend;
        using var beneath = Draws.Stretched(underlying.Draws(at, options.Confidence), 0, 1, 0, 1);
        var interval = beneath.Percentile(options.Confidence);
        return trend with
        {
            Observed = observed.Percentile(options.Confidence),
            Underlying = beneath.TooManyLost(options) ? null : interval,
            // Simulated panels keep no record of full choruses, which is the only other thing the word depends on.
            Direction = VariantResult.DirectionOf(interval, 0, options),
        };
    }
}
