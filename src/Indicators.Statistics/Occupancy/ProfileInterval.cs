using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Likelihood-ratio intervals of single probabilities: all values whose highest log-likelihood, the other parameters free,
/// lies within half a chi-square quantile of the maximum.
/// </summary>
/// <remarks>
/// Unlike a Wald interval it also exists at the boundary, where it has one end: an estimate of 1 still says "at least so
/// much". The chi-square law is asymptotic and for interior truths.
/// </remarks>
public static class ProfileInterval
{
    /// <summary>Logits beyond this are 0 or 1.</summary>
    private const double Farthest = 30;

    /// <summary>How near the threshold, relative to the log-likelihood, is on it.</summary>
    private const double Settled = 1e-12;

    /// <summary>How near the threshold, in units of log-likelihood, is near enough for a length that others are added to: 0.05 % of it.</summary>
    private const double Close = 0.001;

    /// <summary>The interval of initial occupancy, a rate or a slot's detection.</summary>
    /// <param name="histories">The histories that were fitted.</param>
    /// <param name="fit">Their fit.</param>
    /// <param name="place">The parameter's place; it must decide a probability alone (not an effect, nor beside effects on occupancy).</param>
    /// <param name="confidence">0 to 1.</param>
    /// <returns>Ends on the probability scale, 0 or 1 when the likelihood does not fall far enough; null when there is no estimate or a search did not settle.</returns>
    public static Interval? Of(DetectionHistories histories, OccupancyFit fit, int place, double confidence = 0.95)
    {
        if (!fit.Layout.DecidesProbability(place)) throw new ArgumentException("The parameter does not decide a probability alone.", nameof(place));
        if (!fit.HasEstimates || fit.Parameters[place].Status == EstimateStatus.NotEstimable)
            return null;
        double z = Quantile.OfNormal(1 - (1 - confidence) / 2), threshold = fit.LogLikelihood - z * z / 2;
        var likelihood = new OccupancyLikelihood(histories, fit.Groups);
        double? lower = End(likelihood, fit, place, threshold, -1), upper = End(likelihood, fit, place, threshold, 1);
        return lower is { } low && upper is { } high ? new Interval(Logistic.Of(low), Logistic.Of(high)) : null;
    }

    /// <summary>
    /// Every parameter where the profile of one that stands at 0 or 1 has fallen to the threshold: as far as it may be from
    /// there, the others moved along.
    /// </summary>
    /// <returns>Null when the likelihood never falls so far, or a search did not settle.</returns>
    internal static double[]? FarthestFromBoundary(DetectionHistories histories, OccupancyFit fit, int place, double confidence)
    {
        double z = Quantile.OfNormal(1 - (1 - confidence) / 2);
        var likelihood = new OccupancyLikelihood(histories, fit.Groups);
        int side = double.IsNegativeInfinity(fit.Point[place]) ? 1 : -1;
        if (End(likelihood, fit, place, fit.LogLikelihood - z * z / 2, side, Close) is not { } end || double.IsInfinity(end))
            return null;
        var search = OccupancyFitter.At(likelihood, fit);
        return double.IsNaN(OccupancyFitter.Profile(search, place, end)) ? null : search.Point;
    }

    /// <summary>Where the profile crosses the threshold on one side: doubling steps out, then false position with halving.</summary>
    private static double? End(OccupancyLikelihood likelihood, OccupancyFit fit, int place, double threshold, int side, double close = 0)
    {
        double estimate = fit.Point[place];
        if (double.IsInfinity(estimate) && Math.Sign(estimate) == side)
            return estimate;
        var search = OccupancyFitter.At(likelihood, fit);
        double inside = Math.Clamp(estimate, -Farthest, Farthest), insideValue = fit.LogLikelihood - threshold;
        double step = fit.Parameters[place].StandardError is { } error ? Math.Clamp(2 * error, 0.1, 4) : 4, outside, outsideValue;
        while (true)
        {
            outside = inside + side * step;
            if (Math.Abs(outside) > Farthest)
                return side * double.PositiveInfinity;
            outsideValue = OccupancyFitter.Profile(search, place, outside) - threshold;
            if (double.IsNaN(outsideValue))
                return null;
            if (outsideValue < 0)
                break;
            (inside, insideValue) = (outside, outsideValue);
            step *= 2;
        }
        double lastValue = double.NaN;
        for (int i = 0; i < 100 && Math.Abs(outside - inside) > 1e-10; i++)
        {
            // False position (Illinois): an end that stays is given half its weight.
            double middle = inside + (outside - inside) * insideValue / (insideValue - outsideValue);
            double value = OccupancyFitter.Profile(search, place, middle) - threshold;
            if (double.IsNaN(value))
                return null;
            if (Math.Abs(value) < Math.Max(close, Settled * (1 + Math.Abs(threshold))))
                return middle;
            if (value > 0)
            {
                (inside, insideValue) = (middle, value);
                if (lastValue > 0)
                    outsideValue /= 2;
            }
            else
            {
                (outside, outsideValue) = (middle, value);
                if (lastValue < 0)
                    insideValue /= 2;
            }
            lastValue = value;
        }
        return (inside + outside) / 2;
    }
}
