using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Statistics.Fits;

namespace Indicators.Analysis.Fits;

/// <summary>One fitted slope with its resamples, whatever window and response it is of.</summary>
/// <param name="Window">Which seasons.</param>
/// <param name="Response">What was made of a call level.</param>
/// <param name="Series">The cells.</param>
/// <param name="Slope">The slope.</param>
/// <param name="Clusters">K.</param>
/// <param name="Draws">The slope of each resample, or null where no interval is promised.</param>
/// <param name="Underlying">Stretched draws of the underlying slope, or null.</param>
/// <param name="SeasonSd">Standard deviation of the shared season shocks; NaN without such draws.</param>
/// <param name="CarryOver">ρ: how alike shocks of one season and the next were taken to be; NaN without such draws.</param>
internal sealed record SlopeSeries(
    TrendWindow Window,
    ResponseKind Response,
    SpeciesSeries Series,
    Slope Slope,
    int Clusters,
    double[]? Draws,
    double[]? Underlying,
    double SeasonSd,
    double CarryOver)
{
    /// <summary>The whole series under the edition's response.</summary>
    public static SlopeSeries Whole(AreaFit fit, int species, ResponseKind response)
    {
        var one = fit.Species[species];
        return new SlopeSeries(
            TrendWindow.Whole, response, one.Series, one.Slope, one.Clusters[^1],
            one.Refits[^1]?.SlopeDraws, fit.Underlying.Draws(species), fit.Underlying.SeasonSd(species), fit.Underlying.CarryOver);
    }

    /// <summary>A window or another response.</summary>
    public static SlopeSeries Of(WindowFit fit) =>
        new(fit.Window, fit.Response, fit.Series, fit.Slope, fit.Clusters, fit.Refits?.SlopeDraws, fit.Underlying, fit.SeasonSd, fit.CarryOver);
}
