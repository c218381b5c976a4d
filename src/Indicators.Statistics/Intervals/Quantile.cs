using MathNet.Numerics.Distributions;

namespace Indicators.Statistics.Intervals;

/// <summary>Quantiles of reference distributions.</summary>
public static class Quantile
{
    /// <summary>The standard normal quantile of a probability between 0 and 1; ±∞ at the ends.</summary>
    public static double OfNormal(double probability) => Normal.InvCDF(0, 1, probability);

    /// <summary>The standard normal distribution function.</summary>
    public static double NormalCdf(double z) => Normal.CDF(0, 1, z);

    /// <summary>The quantile of Student's t with so many degrees of freedom, which need not be whole.</summary>
    /// <remarks>The library's root search stops at 1e-8 or so; two Newton steps on its own distribution function finish it.</remarks>
    public static double OfStudentT(double probability, double degreesOfFreedom)
    {
        if (probability is <= 0 or >= 1)
            return Normal.InvCDF(0, 1, probability);
        double t = StudentT.InvCDF(0, 1, degreesOfFreedom, probability);
        for (int i = 0; i < 2; i++)
            t -= (StudentT.CDF(0, 1, degreesOfFreedom, t) - probability) / StudentT.PDF(0, 1, degreesOfFreedom, t);
        return t;
    }
}

/// <summary>Quantiles of samples. Values may be infinite; they are ranked, not dropped.</summary>
public static class SampleQuantile
{
    /// <summary>Hyndman and Fan's type 6, for Monte Carlo draws: position p (n + 1), between neighbours linearly.</summary>
    /// <param name="sorted">The values in ascending order, at least one.</param>
    /// <param name="probability">0 to 1.</param>
    public static double Type6(ReadOnlySpan<double> sorted, double probability)
    {
        var (below, fraction) = Position(sorted.Length, probability);
        return Between(sorted[below], sorted[Math.Min(below + 1, sorted.Length - 1)], fraction);
    }

    /// <summary>The same of values in any order, which are rearranged so that the neighbours stand in their places (Hoare 1961).</summary>
    /// <param name="values">At least one value, none NaN; their order changes.</param>
    /// <param name="probability">0 to 1.</param>
    public static double Type6InPlace(Span<double> values, double probability)
    {
        var (below, fraction) = Position(values.Length, probability);
        double low = Select(values, below);
        if (fraction == 0)
            return low;
        // All that stand behind the selected one are at least as great: the least of them is its neighbour.
        double high = values[below + 1];
        foreach (double value in values[(below + 2)..])
            high = Math.Min(high, value);
        return Between(low, high, fraction);
    }

    /// <summary>The order statistic below the wanted position, from 0, and how far behind it the position lies.</summary>
    private static (int Below, double Fraction) Position(int count, double probability)
    {
        double position = probability * (count + 1);
        int below = (int)Math.Floor(position);
        if (below < 1) return (0, 0);
        return below >= count ? (count - 1, 0) : (below - 1, position - below);
    }

    private static double Between(double low, double high, double fraction)
    {
        if (fraction == 0 || low == high) return low;
        if (double.IsInfinity(low)) return low;
        return double.IsInfinity(high) ? high : low + fraction * (high - low);
    }

    /// <summary>Puts the value of one rank in its place, smaller ones before it and greater ones behind.</summary>
    private static double Select(Span<double> values, int rank)
    {
        int left = 0, right = values.Length - 1;
        while (left < right)
        {
            double pivot = values[(left + right) / 2];
            int i = left, j = right;
            while (i <= j)
            {
                while (values[i] < pivot) i++;
                while (values[j] > pivot) j--;
                if (i > j)
                    break;
                (values[i], values[j]) = (values[j], values[i]);
                i++;
                j--;
            }
            if (rank <= j) right = j;
            else if (rank >= i) left = i;
            else break;
        }
        return values[rank];
    }

    /// <summary>The inverse of the distribution function, for exact enumerations: the least value whose share reaches p.</summary>
    /// <param name="sorted">Distinct or repeated values in ascending order.</param>
    /// <param name="shares">The probability of each, adding up to 1.</param>
    /// <param name="probability">0 to 1.</param>
    /// <param name="tolerance">How far a running share may fall short by rounding and still count as reached.</param>
    public static double InverseCdf(ReadOnlySpan<double> sorted, ReadOnlySpan<double> shares, double probability, double tolerance = 1e-13)
    {
        double running = 0;
        for (int i = 0; i < sorted.Length; i++)
        {
            running += shares[i];
            if (running >= probability - tolerance)
                return sorted[i];
        }
        return sorted[^1];
    }
}
