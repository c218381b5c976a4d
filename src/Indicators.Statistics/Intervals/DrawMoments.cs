using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Intervals;

/// <summary>The mean and variance of bootstrap draws of one quantity; lost and infinite draws left out.</summary>
/// <param name="Mean">The mean of the finite draws; NaN without one.</param>
/// <param name="Variance">Their sample variance, n − 1 in the denominator; 0 with fewer than two.</param>
public readonly record struct DrawMoments(double Mean, double Variance)
{
    /// <summary>The moments of the finite draws.</summary>
    public static DrawMoments Of(ReadOnlySpan<double> draws)
    {
        double sum = 0, squares = 0;
        int count = 0;
        foreach (double draw in draws)
            if (double.IsFinite(draw)) (sum, count) = (sum + draw, count + 1);
        double mean = sum / count;
        foreach (double draw in draws)
            if (double.IsFinite(draw)) squares += (draw - mean) * (draw - mean);
        return new DrawMoments(mean, count < 2 ? 0 : squares / (count - 1));
    }

    /// <summary>The covariance of two columns of draws over the resamples that both have.</summary>
    internal static double Covariance(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        int shared = Math.Min(x.Length, y.Length);
        x = x[..shared];
        y = y[..shared];
        ref double px = ref MemoryMarshal.GetReference(x), py = ref MemoryMarshal.GetReference(y);
        Vector256<double> sumX = default, sumY = default, sumXY = default, count = default;
        int b = 0;
        for (; b + 4 <= x.Length; b += 4)
        {
            Vector256<double> vx = Vector256.LoadUnsafe(ref px, (nuint)b), vy = Vector256.LoadUnsafe(ref py, (nuint)b);
            var both = Vector256.Equals(vx, vx) & Vector256.Equals(vy, vy);
            (vx, vy) = (vx & both, vy & both);
            sumX += vx;
            sumY += vy;
            sumXY = Vector256.FusedMultiplyAdd(vx, vy, sumXY);
            count += Vector256.Create(1.0) & both;
        }
        double sx = Vector256.Sum(sumX), sy = Vector256.Sum(sumY), sxy = Vector256.Sum(sumXY), n = Vector256.Sum(count);
        for (; b < x.Length; b++)
            if (!double.IsNaN(x[b]) && !double.IsNaN(y[b])) (sx, sy, sxy, n) = (sx + x[b], sy + y[b], sxy + x[b] * y[b], n + 1);
        return n < 2 ? 0 : (sxy - sx * sy / n) / (n - 1);
    }

    /// <summary>
    /// Moves draws so that their mean is the estimate: once the bias that the bootstrap reckons with (Efron and Tibshirani 1993, section 10.2)
    /// is taken out of them, their shape kept. Without a finite draw nothing moves.
    /// </summary>
    public static void Centre(Span<double> draws, double estimate)
    {
        double apart = Of(draws).Mean - estimate;
        if (!double.IsFinite(apart))
            return;
        for (int b = 0; b < draws.Length; b++)
            draws[b] -= apart;
    }
}
