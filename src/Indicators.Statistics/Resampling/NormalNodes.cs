using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Resampling;

/// <summary>Points that stand for a standard normal variable, each for an equal share of it, with mean 0 and standard deviation 1.</summary>
public static class NormalNodes
{
    /// <summary>The middles of equal shares, ascending, scaled so that their own standard deviation is 1.</summary>
    /// <param name="count">How many, at least 2.</param>
    public static double[] Of(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        double[] z = [.. Enumerable.Range(0, count).Select(i => Quantile.OfNormal((i + 0.5) / count))];
        double sd = Math.Sqrt(z.Average(x => x * x));
        return [.. z.Select(x => x / sd)];
    }
}
