using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' fit to what its slope brings to pooling.</summary>
internal static class PoolingPart
{
    /// <summary>A slope with less conditional information has a standard error above 1 on the log scale per season: it tells nothing (ours).</summary>
    private const double LeastInformation = 1;

    /// <summary>Null where there is no finite slope, next to no information on it, or fewer seasons than an interval needs.</summary>
    public static SlopeForPooling? Of(AreaFit fit, int species, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        var one = fit.Species[species];
        int[] seasons = one.Series.Seasons;
        if (one.Slope.Status != SlopeStatus.Finite || one.Slope.Information < LeastInformation || one.InformativeSeasons < options.MinimumSeasons || one.Series.Panel is not { } panel)
            return null;
        // A single wetland says nothing about how wetlands differ, however many stations it has.
        var refits = fit.ResamplesStations ? null : one.Refits[^1];
        int clusters = fit.ResamplesStations ? 1 : one.Clusters[^1];
        double omega = clusters / (clusters - 1.0);
        double? own = refits is null ? null : omega * Variance(refits.SlopeDraws, options);
        double? accounted = null;
        if (own is not null)
        {
            int each = refits!.ResidualResamples;
            accounted = 0;
            for (int t = 0; t < seasons.Length; t++)
                accounted += omega * Variance(refits.ResidualDraws.AsSpan(t * each, each), options);
        }
        // At no trend, so that leverage does not go with the slope: see SlopePart.Leverage.
        var leverage = SeasonResiduals.Of(panel, seasons.Length, 0).Leverage;
        var residuals = refits?.Residuals ?? SeasonResiduals.Of(panel, seasons.Length, one.Slope.Value);
        return new SlopeForPooling
        {
            Area = area,
            Species = id,
            Slope = one.Slope.Value,
            Information = one.Slope.Information,
            OwnVariance = accounted is null ? null : own,
            Clusters = clusters,
            ResidualVariance = accounted,
            ResponseByLag = residuals.Response.SquaresByLag,
            CarryOverEvidence = fit.Underlying.CarryOverEvidence,
            Seasons = [.. seasons.Select((season, t) => new SeasonForPooling(season, leverage[t], residuals.Residuals[t]))],
        };
    }

    /// <summary>The variance of draws; null when more than the allowed share of them is lost or without bound.</summary>
    private static double? Variance(ReadOnlySpan<double> draws, TrendOptions options)
    {
        int count = 0;
        foreach (double draw in draws)
            count += double.IsFinite(draw) ? 1 : 0;
        return count < 2 || count < (1 - options.MaximumLostShare) * draws.Length ? null : DrawMoments.Of(draws).Variance;
    }
}
