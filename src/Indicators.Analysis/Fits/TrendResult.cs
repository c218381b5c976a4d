using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' fit to the trend an edition tells.</summary>
internal static class TrendResult
{
    /// <summary>A slope on the log scale smaller than this is rounding: no change.</summary>
    private const double NoChange = 1e-9;

    public static Trend Of(AreaFit fit, int species, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        var one = fit.Species[species];
        var series = one.Series;
        var slope = one.Slope;
        var trend = new Trend
        {
            Area = area,
            Species = id,
            Status = StatusOf(slope.Status, series.Panel is null),
            Interval = IntervalKind.NoEstimate,
            FirstSeason = series.Seasons.Length > 0 ? series.Seasons[0] : null,
            LastSeason = series.Seasons.Length > 0 ? series.Seasons[^1] : null,
            PercentPerSeason = slope.Status == SlopeStatus.Finite ? Percent(slope.Value) : null,
            Clusters = series.Wetlands,
            InformativeClusters = one.Clusters[^1],
            Stations = series.Stations,
            Surveys = series.Surveys,
            SilentStations = series.SilentStations,
            CeilingShare = series.Panel is null ? null : series.CeilingShare,
        };
        if (slope.Status != SlopeStatus.Finite)
            return trend;
        if (one.Clusters[^1] < options.MinimumClusters)
            return trend with { Interval = IntervalKind.FewClusters };
        if (one.Refits[^1] is not { SlopeDraws: var values })
            return trend with { Interval = IntervalKind.FewSeasons };

        double factor = BootstrapInterval.Stretch(one.Clusters[^1], options.Confidence);
        var draws = Draws.Stretched(values, 0, 1, slope.Value, factor);
        trend = trend with { Resamples = draws.Count };
        if (draws.TooManyLost(options))
            return trend with { Interval = IntervalKind.LostResamples };

        var interval = draws.Percentile(options.Confidence);
        double tail = (1 - options.Confidence) / 2;
        trend = trend with
        {
            Interval = fit.ResamplesStations ? IntervalKind.ObservedChangeStations : IntervalKind.ObservedChange,
            Lower = Finite(interval.Lower),
            Upper = Finite(interval.Upper),
            LowerMonteCarloError = ErrorInPercent(interval.Lower, BootstrapInterval.MonteCarloError(draws.Sorted, tail)),
            UpperMonteCarloError = ErrorInPercent(interval.Upper, BootstrapInterval.MonteCarloError(draws.Sorted, 1 - tail)),
        };
        return WithAnalystIntervals(one, values, options, WithUnderlying(fit, species, options, trend));
    }

    /// <summary>The interval of the underlying direction, and the word and probability that come from it.</summary>
    private static Trend WithUnderlying(AreaFit fit, int species, TrendOptions options, Trend trend)
    {
        if (fit.Underlying.Draws(species) is not { } values)
            return trend;
        var draws = Draws.Stretched(values, 0, 1, 0, 1);
        if (draws.TooManyLost(options))
            return trend;
        var interval = draws.Percentile(options.Confidence);
        var direction = DirectionOf(interval, fit.Species[species].Series.CeilingShare, options);
        return trend with
        {
            LowerUnderlying = Finite(interval.Lower),
            UpperUnderlying = Finite(interval.Upper),
            SeasonSd = fit.Underlying.SeasonSd(species),
            Direction = direction,
            Slowly = direction is Direction.Up or Direction.Down && WithinThreshold(interval, options),
            ProbabilityOfDecline = draws.ShareBelow(0),
        };
    }

    /// <summary>The word that an interval carries; nothing is called steady where most surveys are at the scale's ceiling.</summary>
    public static Direction DirectionOf(Interval logInterval, double ceilingShare, TrendOptions options)
    {
        if (logInterval.Upper < -NoChange) return Direction.Down;
        if (logInterval.Lower > NoChange) return Direction.Up;
        return WithinThreshold(logInterval, options) && ceilingShare <= options.CeilingMuteShare ? Direction.Steady : Direction.Unclear;
    }

    private static bool WithinThreshold(Interval log, TrendOptions options) =>
        Percent(log.Lower) >= -options.PracticalChangePercent && Percent(log.Upper) <= options.PracticalChangePercent;

    private static Trend WithAnalystIntervals(SpeciesFit one, double[] values, TrendOptions options, Trend trend)
    {
        double[] deleteOne = TrendFit.DeleteOne(one.Series.Panel!, one.Slope);
        if (!deleteOne.All(double.IsFinite))
            return trend;
        var plain = Draws.Stretched(values, 0, 1, one.Slope.Value, 1);
        var bca = BootstrapInterval.Bca(plain.Sorted, one.Slope.Value, Jackknife.Acceleration(deleteOne), options.Confidence);
        var jackknife = Jackknife.StudentT(one.Slope.Value, deleteOne, one.Clusters[^1], options.Confidence);
        return trend with
        {
            BcaLower = bca is { } low ? Finite(low.Lower) : null,
            BcaUpper = bca is { } high ? Finite(high.Upper) : null,
            JackknifeLower = Finite(jackknife.Lower),
            JackknifeUpper = Finite(jackknife.Upper),
        };
    }

    private static TrendStatus StatusOf(SlopeStatus status, bool neverHeard) => status switch
    {
        SlopeStatus.Finite => TrendStatus.Estimated,
        SlopeStatus.MinusInfinity => TrendStatus.OnlyInFirstSeasons,
        SlopeStatus.PlusInfinity => TrendStatus.OnlyInLastSeasons,
        SlopeStatus.NotConverged => throw new InvalidOperationException("The trend's Newton iteration did not settle."),
        _ => neverHeard ? TrendStatus.NeverHeard : TrendStatus.OneSeason,
    };

    private static double Percent(double log) => 100 * double.ExpM1(log);

    private static double? Finite(double log) => double.IsFinite(log) ? Percent(log) : null;

    private static double? ErrorInPercent(double log, double error) =>
        double.IsFinite(log) && double.IsFinite(error) ? 100 * Math.Exp(log) * error : null;
}
