using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
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
    /// <remarks>
    /// Newton's steps on the library's distribution function, from the expansion about the normal quantile (Abramowitz and
    /// Stegun 1964, 26.7.5). The expansion falls short in the upper half, where the function is concave, so the steps climb to
    /// the quantile and never past it.
    /// </remarks>
    public static double OfStudentT(double probability, double degreesOfFreedom)
    {
        if (probability is <= 0 or >= 1 || double.IsInfinity(degreesOfFreedom))
            return Normal.InvCDF(0, 1, probability);
        if (probability < 0.5)
            return -OfStudentT(1 - probability, degreesOfFreedom);
        double z = OfNormal(probability), z2 = z * z, v = degreesOfFreedom;
        double t = z + z * ((z2 + 1) / 4 + ((5 * z2 + 16) * z2 + 3) / (96 * v) + (((3 * z2 + 19) * z2 + 17) * z2 - 15) / (384 * v * v)) / v;
        for (int i = 0; i < 100; i++)
        {
            double step = (probability - StudentT.CDF(0, 1, v, t)) / StudentT.PDF(0, 1, v, t);
            t += step;
            if (Math.Abs(step) <= 1e-14 * t || (step < 0 && i > 0))
                break;
        }
        return t;
    }
}

/// <summary>Quantiles of samples. Values may be infinite; they are ranked, not dropped.</summary>
public static class SampleQuantile
{
    /// <summary>More values than this to select from, and a sample of them is looked at first.</summary>
    private const int LongSelection = 200;

    /// <summary>No more values than this to a tail, and they are kept in order while all are looked through once.</summary>
    private const int ShortTail = 64;

    /// <summary>Hyndman and Fan's type 6, for Monte Carlo draws: position p (n + 1), between neighbours linearly.</summary>
    /// <param name="sorted">The values in ascending order, at least one.</param>
    /// <param name="probability">0 to 1.</param>
    public static double Type6(ReadOnlySpan<double> sorted, double probability)
    {
        var (below, fraction) = Position(sorted.Length, probability);
        return Between(sorted[below], sorted[Math.Min(below + 1, sorted.Length - 1)], fraction);
    }

    /// <summary>The same of values in any order, which are rearranged so that the neighbours stand in their places (Floyd and Rivest 1975).</summary>
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

    /// <summary>Both ends that leave equal shares of the values outside, as <see cref="Type6"/> gives them.</summary>
    /// <param name="values">At least one value, none NaN; their order may change.</param>
    /// <param name="tail">The share on either side, below a half.</param>
    public static (double Lower, double Upper) TailsInPlace(Span<double> values, double tail)
    {
        var (low, intoLow) = Position(values.Length, tail);
        var (high, intoHigh) = Position(values.Length, 1 - tail);
        int least = low + 2, greatest = values.Length - high;
        if (Math.Max(least, greatest) > ShortTail)
            return (Type6InPlace(values, tail), Type6InPlace(values, 1 - tail));

        // The least values ascending, and the greatest with their signs turned, so that both are kept alike.
        Span<double> room = stackalloc double[2 * ShortTail], lower = room[..least], upper = room.Slice(ShortTail, greatest);
        lower.Fill(double.PositiveInfinity);
        upper.Fill(double.PositiveInfinity);
        ref double first = ref MemoryMarshal.GetReference(values);
        Vector256<double> below = Vector256.Create(double.PositiveInfinity), above = -below;
        int i = 0;
        for (; i + Vector256<double>.Count <= values.Length; i += Vector256<double>.Count)
        {
            var four = Vector256.LoadUnsafe(ref first, (nuint)i);
            if ((Vector256.LessThan(four, below) | Vector256.GreaterThan(four, above)) == default)
                continue;
            foreach (double value in values.Slice(i, Vector256<double>.Count))
                Keep(value, lower, upper);
            (below, above) = (Vector256.Create(lower[^1]), Vector256.Create(-upper[^1]));
        }
        foreach (double value in values[i..])
            Keep(value, lower, upper);
        return (
            Between(lower[^2], intoLow == 0 ? lower[^2] : lower[^1], intoLow),
            Between(-upper[^1], intoHigh == 0 ? -upper[^1] : -upper[^2], intoHigh));

        static void Keep(double value, Span<double> lower, Span<double> upper)
        {
            if (value < lower[^1]) Insert(value, lower);
            if (-value < upper[^1]) Insert(-value, upper);
        }

        static void Insert(double value, Span<double> ascending)
        {
            int at = ascending.Length - 1;
            for (; at > 0 && ascending[at - 1] > value; at--)
                ascending[at] = ascending[at - 1];
            ascending[at] = value;
        }
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

    /// <summary>Puts the value of one rank in its place, smaller ones before it and greater ones behind (Floyd and Rivest 1975).</summary>
    private static double Select(Span<double> values, int rank)
    {
        Select(values, rank, 0, values.Length - 1);
        return values[rank];
    }

    private static void Select(Span<double> values, int rank, int left, int right)
    {
        while (left < right)
        {
            if (right - left > LongSelection)
            {
                // A sample about the rank, itself selected from, gives a pivot with nearly everything on one side of it.
                double n = right - left + 1, i = rank - left + 1, log = Math.Log(n), size = 0.5 * Math.Exp(2 * log / 3);
                double spread = 0.5 * Math.Sqrt(log * size * (n - size) / n) * Math.Sign(i - n / 2);
                Select(
                    values, rank, Math.Max(left, (int)(rank - i * size / n + spread)), Math.Min(right, (int)(rank + (n - i) * size / n + spread)));
            }
            double pivot = values[rank];
            int from = left, to = right;
            while (from <= to)
            {
                while (values[from] < pivot) from++;
                while (values[to] > pivot) to--;
                if (from > to)
                    break;
                (values[from], values[to]) = (values[to], values[from]);
                from++;
                to--;
            }
            if (rank <= to) right = to;
            else if (rank >= from) left = from;
            else return;
        }
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
