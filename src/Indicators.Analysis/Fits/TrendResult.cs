using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' fit to the trend an edition tells: the whole series, with what analysts want beside it.</summary>
internal static class TrendResult
{
    public static Trend Of(AreaFit fit, int species, WatershedCode area, Id<Species> id, ProgrammeSettings settings, LeaveOneOut? without)
    {
        var (one, options) = (fit.Species[species], settings.Trend);
        var whole = VariantResult.Of(fit, SlopeSeries.Whole(fit, species, settings.Response.Kind), area, id, options);
        var trend = new Trend
        {
            Area = area,
            Species = id,
            Status = whole.Status,
            Interval = whole.Interval,
            FirstSeason = whole.FirstSeason,
            LastSeason = whole.LastSeason,
            PercentPerSeason = whole.PercentPerSeason,
            Lower = whole.Lower,
            Upper = whole.Upper,
            LowerUnderlying = whole.LowerUnderlying,
            UpperUnderlying = whole.UpperUnderlying,
            SeasonSd = whole.SeasonSd,
            Direction = whole.Direction,
            // Where most surveys are at the scale's ceiling it hides most of a change.
            Slowly = whole.Direction is Direction.Up or Direction.Down
                && whole.CeilingShare <= options.CeilingMuteShare
                && VariantResult.WithinThreshold(whole.LowerUnderlying, whole.UpperUnderlying, options),
            ProbabilityOfDecline = whole.ProbabilityOfDecline,
            Clusters = one.Series.Wetlands,
            InformativeClusters = one.Clusters[^1],
            Stations = whole.Stations,
            Surveys = whole.Surveys,
            SilentStations = one.Series.SilentStations,
            CeilingShare = whole.CeilingShare,
            EqualStationsPercent = one.Series.Panel is { } panel ? LogSlope.Finite(EqualUnits.Slope(panel).Value) : null,
        };
        return one.Refits[^1] is { SlopeDraws: var values } && trend.Interval is not IntervalKind.NoEstimate
            ? ForAnalysts(one, values, without, options, trend)
            : trend;
    }

    private static Trend ForAnalysts(SpeciesFit one, double[] values, LeaveOneOut? without, TrendOptions options, Trend trend)
    {
        using var draws = Draws.Stretched(values, 0, 1, one.Slope.Value, BootstrapInterval.Stretch(one.Clusters[^1], options.Confidence));
        trend = trend with { Resamples = draws.Count };
        if (draws.TooManyLost(options))
            return trend;
        double tail = (1 - options.Confidence) / 2;
        var interval = BootstrapInterval.Percentile(draws.Sorted, options.Confidence);
        trend = trend with
        {
            LowerMonteCarloError = ErrorInPercent(interval.Lower, BootstrapInterval.MonteCarloError(draws.Sorted, tail)),
            UpperMonteCarloError = ErrorInPercent(interval.Upper, BootstrapInterval.MonteCarloError(draws.Sorted, 1 - tail)),
        };
        if (without is not { IsFinite: true, Slopes: var deleteOne })
            return trend;
        using var plain = Draws.Stretched(values, 0, 1, one.Slope.Value, 1);
        var bca = BootstrapInterval.Bca(plain.Sorted, one.Slope.Value, Jackknife.Acceleration(deleteOne), options.Confidence);
        var jackknife = Jackknife.StudentT(one.Slope.Value, deleteOne, one.Clusters[^1], options.Confidence);
        return trend with
        {
            BcaLower = bca is { } low ? LogSlope.Finite(low.Lower) : null,
            BcaUpper = bca is { } high ? LogSlope.Finite(high.Upper) : null,
            JackknifeLower = LogSlope.Finite(jackknife.Lower),
            JackknifeUpper = LogSlope.Finite(jackknife.Upper),
        };
    }

    private static double? ErrorInPercent(double log, double error) =>
        double.IsFinite(log) && double.IsFinite(error) ? 100 * Math.Exp(log) * error : null;
}
