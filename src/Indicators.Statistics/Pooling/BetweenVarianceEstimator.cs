using MathNet.Numerics.Distributions;

namespace Indicators.Statistics.Pooling;

/// <summary>Estimates τ² and its interval. Negative answers are 0, as usual.</summary>
public static class BetweenVarianceEstimator
{
    private const int Halvings = 2000;

    /// <summary>Estimates τ².</summary>
    /// <param name="estimates">At least two estimates with a covariance that is not singular.</param>
    /// <param name="method">How.</param>
    /// <exception cref="ArgumentException">Fewer than two estimates, or a singular covariance: ask <see cref="JointEstimates"/> first.</exception>
    public static BetweenVariance Estimate(JointEstimates estimates, BetweenVarianceMethod method)
    {
        if (estimates.Count < 2 || estimates.IsSingular)
            throw new ArgumentException("Two estimates at least, and a covariance that is not singular.", nameof(estimates));
        double degrees = estimates.Count - 1;
        switch (method)
        {
            case BetweenVarianceMethod.DerSimonianLaird:
                var fixedEffect = WeightedSums.At(estimates, 0);
                return Moments(method, (fixedEffect.Q - degrees) / (fixedEffect.W - fixedEffect.WWX / fixedEffect.Information));
            case BetweenVarianceMethod.Hedges:
                return Moments(method, UnweightedMoments(estimates));
            case BetweenVarianceMethod.PauleMandel:
                var (value, found) = Root(estimates, tau2 => WeightedSums.QAt(estimates, tau2) - degrees);
                return new BetweenVariance(method, value, null, found);
            case BetweenVarianceMethod.RestrictedMaximumLikelihood:
                return Likelihood(estimates, method, restricted: true);
            case BetweenVarianceMethod.MaximumLikelihood:
                return Likelihood(estimates, method, restricted: false);
            default:
                throw new ArgumentOutOfRangeException(nameof(method));
        }
    }

    /// <summary>
    /// The interval of τ² that the generalised Q does not contradict: Q(τ²) ~ χ² with k − 1 degrees of freedom
    /// (Viechtbauer 2007). The upper end is where Q meets the lower quantile; an end below 0 is 0.
    /// </summary>
    /// <param name="estimates">At least two estimates with a covariance that is not singular.</param>
    /// <param name="confidence">0 to 1.</param>
    public static Intervals.Interval QProfile(JointEstimates estimates, double confidence)
    {
        double tail = (1 - confidence) / 2;
        return new Intervals.Interval(Unrefuted(estimates, 1 - tail), Unrefuted(estimates, tail));
    }

    /// <summary>The τ² at which Q meets a quantile of χ² with k − 1 degrees of freedom; 0 where it lies below from the start.</summary>
    /// <param name="estimates">At least two estimates with a covariance that is not singular.</param>
    /// <param name="probability">Of χ², 0 to 1: the larger, the smaller τ².</param>
    internal static double Unrefuted(JointEstimates estimates, double probability)
    {
        double quantile = ChiSquared.InvCDF(estimates.Count - 1, probability);
        return Root(estimates, tau2 => WeightedSums.QAt(estimates, tau2) - quantile).Value;
    }

    private static BetweenVariance Moments(BetweenVarianceMethod method, double value) => new(method, Math.Max(0, value), null, true);

    /// <summary>E Σ(y − ȳ)² = Σ V_ii − 1ᵀV1/k + (k − 1)τ², solved for τ².</summary>
    private static double UnweightedMoments(JointEstimates estimates)
    {
        double k = estimates.Count, mean = estimates.Values.Average(), squares = 0;
        foreach (double y in estimates.Values)
            squares += (y - mean) * (y - mean);
        return (squares - estimates.Trace + estimates.Total / k) / (k - 1);
    }

    /// <summary>
    /// The likelihood may have more than one peak, so the score's sign is looked at along a scale of τ² and the best
    /// of all downward crossings and of 0 is taken.
    /// </summary>
    private static BetweenVariance Likelihood(JointEstimates estimates, BetweenVarianceMethod method, bool restricted)
    {
        double Score(double tau2) => WeightedSums.At(estimates, tau2).Score(restricted);
        double LogLikelihood(double tau2)
        {
            var sums = WeightedSums.At(estimates, tau2);
            return restricted ? sums.RestrictedLogLikelihood : (sums.LogWeights - sums.Q) / 2;
        }

        double best = 0, highest = LogLikelihood(0), before = 0;
        bool rising = Score(0) > 0;
        // No maximum lies beyond the largest squared distance from the mean, nor below the variances' own precision.
        double top = Spread(estimates), step = Math.Pow(10, 0.25);
        for (double tau2 = top * 1e-10; ; tau2 *= step)
        {
            bool stillRising = Score(tau2) > 0;
            if (rising && !stillRising)
            {
                double peak = Bisect(Score, before, tau2), height = LogLikelihood(peak);
                if (height > highest)
                    (best, highest) = (peak, height);
            }
            (rising, before) = (stillRising, tau2);
            if (tau2 > top)
                break;
        }
        double information = WeightedSums.At(estimates, best).ExpectedInformation(restricted);
        return new BetweenVariance(method, best, information > 0 ? 1 / Math.Sqrt(information) : null, !rising);
    }

    /// <summary>The root of a function that falls in τ²; 0 when it starts below.</summary>
    private static (double Value, bool Found) Root(JointEstimates estimates, Func<double, double> falling)
    {
        if (falling(0) <= 0)
            return (0, true);
        double high = Math.Max(Spread(estimates), double.Epsilon);
        for (int i = 0; falling(high) > 0; i++)
        {
            if (i == Halvings)
                return (high, false);
            high *= 2;
        }
        return (Bisect(falling, 0, high), true);
    }

    private static double Spread(JointEstimates estimates)
    {
        double mean = WeightedSums.At(estimates, 0).Mean, largest = estimates.LargestVariance;
        foreach (double y in estimates.Values)
            largest = Math.Max(largest, (y - mean) * (y - mean));
        return 2 * estimates.Count * largest;
    }

    /// <summary>Halves until two neighbouring doubles are left.</summary>
    private static double Bisect(Func<double, double> falling, double low, double high)
    {
        for (int i = 0; i < Halvings; i++)
        {
            double middle = low + (high - low) / 2;
            if (middle <= low || middle >= high)
                break;
            if (falling(middle) > 0) low = middle;
            else high = middle;
        }
        return low + (high - low) / 2;
    }
}
