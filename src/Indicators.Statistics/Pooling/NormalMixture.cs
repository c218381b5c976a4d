namespace Indicators.Statistics.Pooling;

/// <summary>A mixture of normal distributions.</summary>
internal static class NormalMixture
{
    private const int LongestSearch = 200;

    /// <summary>A quantile, by Newton's method inside a bracket.</summary>
    /// <param name="means">The distributions' means.</param>
    /// <param name="errors">Their standard deviations, greater than 0.</param>
    /// <param name="weights">Their weights, adding up to 1.</param>
    /// <param name="probability">0 to 1.</param>
    /// <param name="mean">The mixture's mean, where the search begins.</param>
    /// <param name="deviation">The mixture's standard deviation, its scale.</param>
    public static double Quantile(double[] means, double[] errors, double[] weights, double probability, double mean, double deviation)
    {
        double low = double.NegativeInfinity, high = double.PositiveInfinity;
        double at = mean + deviation * Intervals.Quantile.OfNormal(probability);
        for (int i = 0; i < LongestSearch; i++)
        {
            double share = 0, density = 0;
            for (int g = 0; g < means.Length; g++)
            {
                double z = (at - means[g]) / errors[g];
                share += weights[g] * Intervals.Quantile.NormalCdf(z);
                density += weights[g] / errors[g] * Math.Exp(-z * z / 2);
            }
            density /= Math.Sqrt(2 * Math.PI);
            if (share < probability) low = at;
            else high = at;
            double next = at - (share - probability) / density, step = Math.Abs(next - at);
            // Before the bracket is looked at: a step of nothing ends on its edge, and would be taken for one that leaves it.
            if (step <= 1e-12 * deviation)
                return next;
            // Far in a tail the density says little: never more than a few deviations, never outside what is known.
            if (!(step <= 4 * deviation))
                next = at + (share < probability ? deviation : -deviation);
            if (next <= low || next >= high)
                next = double.IsInfinity(low) ? high - deviation : double.IsInfinity(high) ? low + deviation : low + (high - low) / 2;
            at = next;
        }
        return at;
    }
}
