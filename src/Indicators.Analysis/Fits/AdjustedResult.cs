using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' adjusted fit to the trend and the effects an edition tells.</summary>
internal static class AdjustedResult
{
    /// <summary>The adjusted trend over the whole series.</summary>
    /// <param name="fit">The area's adjusted fits.</param>
    /// <param name="raw">The area's raw fits, for what listening there was.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="area">The area.</param>
    /// <param name="id">The species.</param>
    /// <param name="settings">The programme's settings.</param>
    public static TrendVariant Trend(AdjustedArea fit, AreaFit raw, int species, WatershedCode area, Id<Species> id, ProgrammeSettings settings)
    {
        var one = fit.Species[species];
        var options = settings.Trend;
        var slope = one.Residuals is null ? new Slope(SlopeStatus.None, double.NaN, 0, 0) : new Slope(SlopeStatus.Finite, one.Slope, 0, 0);
        var row = VariantResult.Of(
            raw,
            new SlopeSeries(
                TrendWindow.Whole, settings.Response.Kind, raw.Species[species].Series, slope, one.Clusters, one.SlopeDraws,
                fit.Underlying(species), fit.SeasonSd(species), fit.CarryOver),
            area, id, options) with { Model = TrendModel.Adjusted };
        return one.Residuals is not null ? row : row with
        {
            Status = StatusOf(one),
            Interval = !one.TooLittle ? IntervalKind.NoEstimate
                : one.Clusters < options.MinimumClusters ? IntervalKind.FewClusters
                : one.TooFewSeasons ? IntervalKind.FewSeasons
                : IntervalKind.NoEstimate,
        };
    }

    /// <summary>The effects of its covariates; none without a fit.</summary>
    public static IEnumerable<CovariateEffect> Effects(AdjustedArea fit, int species, WatershedCode area, Id<Species> id, TrendOptions options)
    {
        var one = fit.Species[species];
        if (one.Listening is not { } listening)
            yield break;
        double factor = BootstrapInterval.Stretch(one.Clusters, options.Confidence);
        for (int c = 0; c < VisitCovariates.Count; c++)
        {
            var covariate = listening.Covariates[c];
            bool known = covariate.Missing < listening.Visits;
            var effect = new CovariateEffect
            {
                Area = area,
                Species = id,
                Covariate = (VisitCovariate)c,
                Status = one.Estimable[c] ? EffectStatus.Estimated
                    : !known ? EffectStatus.NotRecorded
                    : covariate.StandardDeviation == 0 || !listening.Varies(c) ? EffectStatus.NotVarying
                    : EffectStatus.NotSeparable,
                Mean = known ? covariate.Mean : null,
                Sd = known ? covariate.StandardDeviation : null,
                Missing = covariate.Missing,
                Surveys = listening.Visits,
            };
            if (!one.Estimable[c])
            {
                yield return effect;
                continue;
            }
            double theta = one.Effects[c], sd = covariate.StandardDeviation;
            effect = effect with { Effect = theta, PercentPerUnit = LogSlope.Percent(theta / sd) };
            using var draws = Draws.Stretched(one.EffectDraws[PlaceOf(one, c)], 0, 1, theta, factor);
            if (draws.TooManyLost(options))
            {
                yield return effect;
                continue;
            }
            var interval = draws.Percentile(options.Confidence);
            yield return effect with
            {
                Lower = interval.Lower,
                Upper = interval.Upper,
                PercentLower = LogSlope.Percent(interval.Lower / sd),
                PercentUpper = LogSlope.Percent(interval.Upper / sd),
            };
        }
    }

    private static TrendStatus StatusOf(AdjustedSpecies one) => one switch
    {
        { Seasons.Length: 0 } => TrendStatus.NeverHeard,
        { TooLittle: true } => TrendStatus.TooLittle,
        { Status: AdjustedStatus.Finite } => TrendStatus.Estimated,
        { Status: AdjustedStatus.MinusInfinity } => TrendStatus.OnlyInFirstSeasons,
        { Status: AdjustedStatus.PlusInfinity } => TrendStatus.OnlyInLastSeasons,
        { Status: AdjustedStatus.None } => TrendStatus.OneSeason,
        _ => TrendStatus.Separated,
    };

    private static int PlaceOf(AdjustedSpecies one, int covariate) => one.Estimable.AsSpan(0, covariate).Count(true);
}
