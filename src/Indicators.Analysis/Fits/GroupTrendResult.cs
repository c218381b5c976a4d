using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>From the fits of a group's species to the trend an edition tells of them together.</summary>
internal static class GroupTrendResult
{
    /// <summary>The mean slope of the members that have draws of their own.</summary>
    /// <param name="fit">The area's fits.</param>
    /// <param name="area">The area it is told of.</param>
    /// <param name="group">Which group.</param>
    /// <param name="members">Its species, as indices, ascending.</param>
    /// <param name="options">Confidence, lost share, practical change.</param>
    public static GroupTrend Of(AreaFit fit, WatershedCode area, SpeciesGroup group, int[] members, TrendOptions options)
    {
        int[] usable = [.. members.Where(k => fit.Underlying.Draws(k) is { } draws && Mostly(draws, options))];
        var trend = new GroupTrend { Area = area, Group = group, Species = usable.Length };
        if (usable.Length < SpeciesGroups.FewestSpecies)
            return trend;
        double mean = usable.Average(k => fit.Species[k].Slope.Value);
        trend = trend with { PercentPerSeason = LogSlope.Percent(mean) };
        double[] times = [.. usable.SelectMany(k => fit.Species[k].Series.Seasons).Distinct().Order().Select(season => (double)season)];
        if (TwoWaySandwich.OfMean([.. usable.Select(k => fit.Species[k].Slope)], i => fit.Species[usable[i]].Series.Panel!, times) is { } sandwich)
        {
            var twoWay = sandwich.Interval(mean, options.Confidence);
            trend = trend with { TwoWayLower = LogSlope.Percent(twoWay.Lower), TwoWayUpper = LogSlope.Percent(twoWay.Upper) };
        }
        using var draws = Draws.Stretched(fit.Underlying.MeanDraws(usable, options.Confidence), 0, 1, 0, 1);
        if (draws.TooManyLost(options))
            return trend;
        var interval = draws.Percentile(options.Confidence);
        double ceiling = usable.Max(k => fit.Species[k].Series.CeilingShare);
        return trend with
        {
            LowerUnderlying = LogSlope.Finite(interval.Lower),
            UpperUnderlying = LogSlope.Finite(interval.Upper),
            Direction = VariantResult.DirectionOf(interval, ceiling, options),
            ProbabilityOfDecline = draws.ShareBelow(0),
        };
    }

    /// <summary>A species whose draws are mostly lost or without bound would leave the group none.</summary>
    private static bool Mostly(double[] draws, TrendOptions options) =>
        draws.Count(double.IsFinite) >= (1 - options.MaximumLostShare) * draws.Length;
}
