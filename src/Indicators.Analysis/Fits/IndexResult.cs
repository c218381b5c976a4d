using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Groups;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' fit to the yearly indices an edition tells.</summary>
internal static class IndexResult
{
    public static IEnumerable<IndexPoint> Of(AreaFit fit, int species, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        var one = fit.Species[species];
        var series = one.Series;
        bool promised = one.Clusters[^1] >= options.MinimumClusters && one.InformativeSeasons >= options.MinimumSeasons;
        double factor = promised ? BootstrapInterval.Stretch(one.Clusters[^1], options.Confidence) : double.NaN;
        for (int t = 0; t < series.Seasons.Length; t++)
        {
            double log = one.LogIndex[t];
            var interval = promised ? IntervalOf(one, t, factor, options) : (null, null);
            yield return new IndexPoint
            {
                Area = area,
                Species = id,
                Season = series.Seasons[t],
                Status = !one.HasBaseline ? IndexStatus.SilentBaseline : double.IsNaN(log) ? IndexStatus.NotLinked : IndexStatus.Estimated,
                Index = double.IsNaN(log) ? null : 100 * Math.Exp(log),
                Lower = interval.Lower,
                Upper = interval.Upper,
                InBaseline = series.Baseline[t],
                MeanCallLevel = (double)series.CallsBySeason[t] / series.SurveysBySeason[t],
                Stations = series.StationsBySeason[t],
                Surveys = series.SurveysBySeason[t],
            };
        }
    }

    /// <summary>
    /// Stretched on the log scale. A silent season has no calls to resample: how many wetlands were silent bounds it from above, by the rule of three.
    /// </summary>
    private static (double? Lower, double? Upper) IntervalOf(SpeciesFit one, int t, double factor, TrendOptions options)
    {
        double log = one.LogIndex[t];
        if (double.IsNaN(log))
            return (null, null);
        if (double.IsNegativeInfinity(log))
            return (0, double.IsNaN(one.Missed[t]) ? null : 100 * JointSilence.Levels([one.Missed[t]], options.Confidence)[0]);
        using var draws = Draws.Stretched(one.IndexDraws, t, one.LogIndex.Length, log, factor);
        if (draws.TooManyLost(options))
            return (null, null);
        var interval = draws.Percentile(options.Confidence);
        return (100 * Math.Exp(interval.Lower), 100 * Math.Exp(interval.Upper));
    }
}
