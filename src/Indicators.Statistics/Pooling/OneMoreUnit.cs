using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Pooling;

/// <summary>
/// Where the value of one more unit would lie.
/// </summary>
/// <remarks>
/// Given τ² it is normal about μ̂(τ²) with variance τ² + SE²(τ²). Taking τ² as known gives far too short an interval where few units happen to differ little, so it
/// is averaged over: the generalised Q of τ² is χ² on k − 1 degrees of freedom (Viechtbauer 2007), which gives every value its confidence, the same that
/// <see cref="BetweenVarianceEstimator.QProfile"/> takes the ends of; what is left of 0 is 0. The idea of averaging over Q's distribution is that of Nagashima, Noma and Furukawa 2019, who draw from it;
/// here are the <see cref="Nodes"/> middle quantiles in its place, so the answer is a pure function of its input.
/// </remarks>
internal static class OneMoreUnit
{
    /// <summary>How many quantiles of τ² are averaged over.</summary>
    private const int Nodes = 40;

    /// <summary>Mean, standard deviation and interval of the averaged distribution.</summary>
    /// <param name="estimates">At least two with a covariance that is not singular.</param>
    /// <param name="confidence">0 to 1.</param>
    public static (double Mean, double Deviation, Interval Interval) Of(JointEstimates estimates, double confidence)
    {
        double[] means = new double[Nodes], deviations = new double[Nodes], weights = new double[Nodes];
        Array.Fill(weights, 1.0 / Nodes);
        for (int i = 0; i < Nodes; i++)
        {
            double tau2 = BetweenVarianceEstimator.Unrefuted(estimates, (i + 0.5) / Nodes);
            var sums = WeightedSums.At(estimates, tau2);
            (means[i], deviations[i]) = (sums.Mean, Math.Sqrt(tau2 + 1 / sums.Information));
        }
        double mean = means.Average();
        double deviation = Math.Sqrt(means.Zip(deviations, (m, d) => d * d + (m - mean) * (m - mean)).Average());
        double tail = (1 - confidence) / 2;
        return (mean, deviation, new Interval(
            NormalMixture.Quantile(means, deviations, weights, tail, mean, deviation),
            NormalMixture.Quantile(means, deviations, weights, 1 - tail, mean, deviation)));
    }
}
