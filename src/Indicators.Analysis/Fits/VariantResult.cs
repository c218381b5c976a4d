using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>From a fitted slope and its resamples to what an edition tells of it.</summary>
internal static class VariantResult
{
    /// <summary>A slope on the log scale smaller than this is rounding: no change.</summary>
    private const double NoChange = 1e-9;

    /// <summary>The declines of IUCN criterion A2 to A4, as total change on the log scale.</summary>
    private static readonly double[] Declines = [Math.Log(0.7), Math.Log(0.5), Math.Log(0.2)];

    /// <summary>A species' trends of every window and response, by the codes of response and window.</summary>
    public static IEnumerable<TrendVariant> All(AreaFit fit, int species, WatershedCode area, Id<Species> id, ProgrammeSettings settings) =>
        fit.Species[species].Windows.Select(SlopeSeries.Of)
            .Append(SlopeSeries.Whole(fit, species, settings.Response.Kind))
            .Select(series => Of(fit, series, area, id, settings.Trend))
            .OrderBy(row => ResultCode.Of(row.Response), StringComparer.Ordinal)
            .ThenBy(row => ResultCode.Of(row.Window), StringComparer.Ordinal);

    /// <summary>One of them.</summary>
    public static TrendVariant Of(AreaFit fit, SlopeSeries one, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        var series = one.Series;
        var row = new TrendVariant
        {
            Window = one.Window,
            Response = one.Response,
            Model = TrendModel.Raw,
            Area = area,
            Species = id,
            Status = StatusOf(one.Slope.Status, !series.WasHeard),
            Interval = IntervalKind.NoEstimate,
            FirstSeason = series.Seasons.Length > 0 ? series.Seasons[0] : null,
            LastSeason = series.Seasons.Length > 0 ? series.Seasons[^1] : null,
            PercentPerSeason = one.Slope.Status == SlopeStatus.Finite ? LogSlope.Percent(one.Slope.Value) : null,
            TotalChangePercent = one.Slope.Status == SlopeStatus.Finite ? LogSlope.Percent(one.Slope.Value * SpanOf(series)) : null,
            Clusters = series.Wetlands,
            Stations = series.Stations,
            Surveys = series.Surveys,
            CeilingShare = series.WasHeard ? series.CeilingShare : null,
        };
        if (one.Slope.Status != SlopeStatus.Finite)
            return row;
        if (one.Clusters < options.MinimumClusters)
            return row with { Interval = IntervalKind.FewClusters };
        if (one.Draws is not { } values)
            return row with { Interval = IntervalKind.FewSeasons };
        using var draws = Draws.Stretched(values, 0, 1, one.Slope.Value, BootstrapInterval.Stretch(one.Clusters, options.Confidence));
        if (draws.TooManyLost(options))
            return row with { Interval = IntervalKind.LostResamples };
        var interval = draws.Percentile(options.Confidence);
        return WithUnderlying(one, options, row with
        {
            Interval = fit.ResamplesStations ? IntervalKind.ObservedChangeStations : IntervalKind.ObservedChange,
            Lower = LogSlope.Finite(interval.Lower),
            Upper = LogSlope.Finite(interval.Upper),
        });
    }

    /// <summary>The interval of the underlying direction, and what comes from it: the word, the total change, the probabilities.</summary>
    private static TrendVariant WithUnderlying(SlopeSeries one, TrendOptions options, TrendVariant row)
    {
        if (one.Underlying is not { } values)
            return row;
        using var draws = Draws.Stretched(values, 0, 1, 0, 1);
        if (draws.TooManyLost(options))
            return row;
        var interval = draws.Percentile(options.Confidence);
        double span = SpanOf(one.Series);
        return row with
        {
            LowerUnderlying = LogSlope.Finite(interval.Lower),
            UpperUnderlying = LogSlope.Finite(interval.Upper),
            SeasonSd = one.SeasonSd,
            SeasonCorrelation = one.CarryOver,
            Direction = DirectionOf(interval, one.Series.CeilingShare, options),
            TotalLower = LogSlope.Finite(interval.Lower * span),
            TotalUpper = LogSlope.Finite(interval.Upper * span),
            ProbabilityOfDecline = draws.ShareBelow(0),
            ProbabilityBelowMinus30 = draws.ShareBelow(Declines[0] / span),
            ProbabilityBelowMinus50 = draws.ShareBelow(Declines[1] / span),
            ProbabilityBelowMinus80 = draws.ShareBelow(Declines[2] / span),
        };
    }

    /// <summary>The word that an interval carries; nothing is called steady where most surveys are at the scale's ceiling.</summary>
    public static Direction DirectionOf(Interval logInterval, double ceilingShare, TrendOptions options)
    {
        if (logInterval.Upper < -NoChange) return Direction.Down;
        if (logInterval.Lower > NoChange) return Direction.Up;
        return WithinThreshold(LogSlope.Percent(logInterval.Lower), LogSlope.Percent(logInterval.Upper), options) && ceilingShare <= options.CeilingMuteShare
            ? Direction.Steady
            : Direction.Unclear;
    }

    /// <summary>Whether an interval in percent per season holds nothing but practically no change; an end that does not exist is too far.</summary>
    public static bool WithinThreshold(double? lower, double? upper, TrendOptions options) =>
        lower >= -options.PracticalChangePercent && upper <= options.PracticalChangePercent;

    private static double SpanOf(SpeciesSeries series) => series.Seasons[^1] - series.Seasons[0];

    private static TrendStatus StatusOf(SlopeStatus status, bool neverHeard) => status switch
    {
        SlopeStatus.Finite => TrendStatus.Estimated,
        SlopeStatus.MinusInfinity => TrendStatus.OnlyInFirstSeasons,
        SlopeStatus.PlusInfinity => TrendStatus.OnlyInLastSeasons,
        SlopeStatus.NotConverged => throw new InvalidOperationException("The trend's Newton iteration did not settle."),
        _ => neverHeard ? TrendStatus.NeverHeard : TrendStatus.OneSeason,
    };
}
