using System.Buffers;
using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Smooth;

/// <summary>Which way a curve bends.</summary>
public enum Bend
{
    /// <summary>The interval of f″ holds 0.</summary>
    None,

    /// <summary>f″ is above 0: a fall slows, or a rise quickens.</summary>
    Upward,

    /// <summary>f″ is below 0: a rise slows, or a fall quickens.</summary>
    Downward,
}

/// <summary>The curve's second derivative at one knot, with its interval over the refits.</summary>
/// <param name="Time">When.</param>
/// <param name="Second">f″, log scale, per season squared.</param>
/// <param name="Interval">Its quantiles over the refits.</param>
/// <param name="Bend">The sign of f″ where the interval leaves no doubt.</param>
public readonly record struct TurningPoint(double Time, double Second, Interval Interval, Bend Bend);

/// <summary>When the curve changes fastest in one direction, and how sure that is.</summary>
/// <param name="Time">When f′ is extreme on the curve itself; null when the curve is a straight line.</param>
/// <param name="Slope">f′ there, log scale, per season.</param>
/// <param name="TimeInterval">The quantiles of that time over the refits that bend; null when none does.</param>
/// <param name="SlopeInterval">
/// The quantiles of the extreme slope over all refits. Refits that wave more than the curve have steeper extremes, so all but a few may lie
/// beyond the curve's own; the end on that side is then the curve's own.
/// </param>
/// <param name="Shares">
/// For every knot, the share of all refits whose extreme lies nearer to it than to any other knot; adds up to 1 less the straight
/// refits' share.
/// </param>
public sealed record FastestChange(double? Time, double Slope, Interval? TimeInterval, Interval SlopeInterval, IReadOnlyList<double> Shares);

/// <summary>Where a smooth curve changes, judged by bootstrap refits.</summary>
/// <remarks>
/// Turning points in the sense of Fewster, Buckland, Siriwardena, Baillie and Wilson (2000): seasons in which the second derivative
/// of the smooth curve differs from 0 by its bootstrap interval. Taken here on the log scale and from the spline itself, not by
/// differences. Each interval is for one season alone; a row of seasons is marked more readily than one. Smoothing makes f″ and its spread
/// over the refits small together, so that a straight course is seldom marked; the time of the fastest change has no such
/// balance and is judged by draws of whole courses.
/// </remarks>
/// <param name="Turns">One entry a knot between the first and the last, where f″ is 0 by construction.</param>
/// <param name="Fall">The fastest fall.</param>
/// <param name="Rise">The fastest rise.</param>
/// <param name="Refits">How many refits it rests on.</param>
public sealed record CurveChanges(IReadOnlyList<TurningPoint> Turns, FastestChange Fall, FastestChange Rise, int Refits)
{
    /// <summary>Judges a curve.</summary>
    /// <param name="spline">The splines that the curve is one of.</param>
    /// <param name="curve">f at the knots.</param>
    /// <param name="refits">
    /// What turning points are judged by: the refits, at [knot × refits + refit], stretched about the curve where the draws are. At least one.
    /// </param>
    /// <param name="draws">
    /// What fastest changes are judged by, laid out the same: the refits, or the refits with what smoothing flattens.
    /// </param>
    /// <param name="confidence">0 to 1.</param>
    public static CurveChanges Of(
        NaturalSpline spline, ReadOnlySpan<double> curve, ReadOnlySpan<double> refits, ReadOnlySpan<double> draws, double confidence)
    {
        int n = spline.Knots, count = refits.Length / n;
        if (curve.Length != n || count == 0 || refits.Length != count * n || draws.Length != refits.Length)
            throw new ArgumentException("One value a knot, in the curve and in every refit.", nameof(refits));
        double[] room = ArrayPool<double>.Shared.Rent(n * count);
        var seconds = room.AsSpan(0, n * count);
        spline.SecondDerivatives(draws, count, seconds);
        var steepest = new SteepestPoints[count];
        double[] values = new double[n], second = new double[n];
        for (int b = 0; b < count; b++)
        {
            for (int t = 0; t < n; t++)
                (values[t], second[t]) = (draws[t * count + b], seconds[t * count + b]);
            steepest[b] = spline.Steepest(values, second);
        }

        spline.SecondDerivatives(refits, count, seconds);
        spline.SecondDerivatives(curve, second);
        var turns = new TurningPoint[n - 2];
        for (int t = 1; t < n - 1; t++)
        {
            var interval = BootstrapInterval.PercentileInPlace(seconds.Slice(t * count, count), confidence);
            var bend = interval.Lower > 0 ? Bend.Upward : interval.Upper < 0 ? Bend.Downward : Bend.None;
            turns[t - 1] = new TurningPoint(spline.Times[t], second[t], interval, bend);
        }
        ArrayPool<double>.Shared.Return(room);
        var own = spline.Steepest(curve, second);
        return new CurveChanges(
            turns,
            Fastest(spline.Times, own.IsStraight ? null : own.FallTime, own.Fall, steepest, p => p.FallTime, p => p.Fall, confidence),
            Fastest(spline.Times, own.IsStraight ? null : own.RiseTime, own.Rise, steepest, p => p.RiseTime, p => p.Rise, confidence),
            count);
    }

    private static FastestChange Fastest(
        ReadOnlySpan<double> knots, double? time, double slope, SteepestPoints[] refits, Func<SteepestPoints, double> timeOf, Func<SteepestPoints, double> slopeOf,
        double confidence)
    {
        double[] times = [.. refits.Where(p => !p.IsStraight).Select(timeOf)];
        var shares = new double[knots.Length];
        foreach (double t in times)
            shares[Nearest(knots, t)] += 1.0 / refits.Length;
        var slopes = BootstrapInterval.PercentileInPlace([.. refits.Select(slopeOf)], confidence);
        return new FastestChange(
            time,
            slope,
            times.Length == 0 ? null : BootstrapInterval.PercentileInPlace(times, confidence),
            new Interval(Math.Min(slopes.Lower, slope), Math.Max(slopes.Upper, slope)),
            shares);
    }

    private static int Nearest(ReadOnlySpan<double> knots, double time)
    {
        int nearest = 0;
        for (int t = 1; t < knots.Length; t++)
            if (Math.Abs(knots[t] - time) < Math.Abs(knots[nearest] - time))
                nearest = t;
        return nearest;
    }
}
