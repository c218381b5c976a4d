using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>Whether a slope exists.</summary>
public enum SlopeStatus
{
    /// <summary>A finite maximum.</summary>
    Finite,

    /// <summary>No unit has counts and exposure in two periods: nothing to say.</summary>
    None,

    /// <summary>Every such unit's counts all fall in its first period with exposure: minus infinity.</summary>
    MinusInfinity,

    /// <summary>Every such unit's counts all fall in its last period with exposure: plus infinity.</summary>
    PlusInfinity,

    /// <summary>The iteration did not settle; should not happen, and is reported instead of a number.</summary>
    NotConverged,
}

/// <summary>A slope on the natural log scale, per unit of time.</summary>
/// <param name="Status">Whether it exists.</param>
/// <param name="Value">β; ±∞ or NaN as the status says.</param>
/// <param name="Information">−d²ℓ/dβ² at the maximum; 0 without one.</param>
/// <param name="Iterations">Newton steps taken.</param>
public readonly record struct Slope(SlopeStatus Status, double Value, double Information, int Iterations)
{
    /// <summary>The model's own standard error, 1/√information, which trusts the Poisson variance and independent units.</summary>
    public double ModelStandardError => 1 / Math.Sqrt(Information);
}

/// <summary>
/// The log-linear trend log E[y_st] = log n_st + α_s + β (t − t̄), unit effects profiled out.
/// </summary>
/// <remarks>
/// Given its total, a unit is multinomial over its periods with p_st = n_st e^{βt} / Σ_u n_su e^{βu}; the maximum over β of
/// Σ_s m_s Σ_t y_st log p_st is the Poisson maximum over (α, β). Consistent for a log-linear mean whatever the distribution
/// of y (Gourieroux, Monfort and Trognon 1984; Wooldridge 1999). One parameter, concave: Newton's method inside a bracket.
/// Vectors run over units, four at a time, always in the same order.
/// </remarks>
public sealed class TrendFit
{
    private const int MaximumIterations = 100;

    /// <summary>The largest |β| × (time span) tried: e^600 still fits a double.</summary>
    private const double MaximumLogRange = 600;

    /// <summary>Steps longer than this over the whole span are too long for the expansion's curvature to tell their error.</summary>
    private const double WithinExpansion = 0.1;

    private readonly double[] _e, _ed, _edd;

    /// <summary>A workspace for panels of at most so many periods.</summary>
    public TrendFit(int periods)
    {
        int padded = periods + PanelCounts.Lanes;
        (_e, _ed, _edd) = (new double[padded], new double[padded], new double[padded]);
    }

    /// <summary>Fits the sample itself, once, to full precision.</summary>
    public static Slope Of(PanelCounts panel) => new TrendFit(panel.Periods).Fit(new Resample(panel), panel.Periods, 0, 1e-13);

    /// <summary>Refits one resample from the sample's own slope, with the first step read off an expansion there.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="expansion">The expansion at the sample's slope, over the periods to use.</param>
    /// <param name="tolerance">The error aimed at, on the log scale over the whole span; estimated from the expansion, so right to a factor of ten or so.</param>
    public Slope Refit(Resample sample, TrendExpansion expansion, double tolerance = 1e-6)
    {
        var (step, skewness, information) = expansion.Step(sample);
        if (expansion.Reaches(step, tolerance)
            && Existence(sample, PeriodMask.First(expansion.Periods)) == SlopeStatus.Finite)
            return new Slope(SlopeStatus.Finite, expansion.Slope + step, information, 0);
        return Fit(sample, expansion.Periods, expansion.Slope + step, tolerance, skewness);
    }

    /// <summary>Fits one resample over its first periods.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="start">Where to start; the sample's own slope is a good place.</param>
    /// <param name="tolerance">
    /// The largest last Newton step on the log scale over the whole span. Convergence is quadratic: after a step of 1e-6
    /// about 1e-12 is left.
    /// </param>
    public Slope Fit(Resample sample, int periods, double start, double tolerance = 1e-6) =>
        Fit(sample, periods, start, tolerance, double.PositiveInfinity);

    private Slope Fit(Resample sample, int periods, double start, double tolerance, double skewness)
    {
        var status = Existence(sample, PeriodMask.First(periods));
        if (status != SlopeStatus.Finite)
        {
            double value = status switch
            {
                SlopeStatus.MinusInfinity => double.NegativeInfinity,
                SlopeStatus.PlusInfinity => double.PositiveInfinity,
                _ => double.NaN,
            };
            return new Slope(status, value, 0, 0);
        }

        double[] times = sample.Panel.Times;
        double middle = (times[0] + times[periods - 1]) / 2, span = times[periods - 1] - times[0];
        double first = 0;
        for (int t = 0; t < periods; t++)
            first += sample.PeriodCounts[t] * (times[t] - middle);

        double limit = MaximumLogRange / span, low = -limit, high = limit;
        double beta = Math.Clamp(double.IsFinite(start) ? start : 0, -limit / 2, limit / 2);
        for (int i = 1; i <= MaximumIterations; i++)
        {
            FillPowers(sample.Panel, periods, middle, beta);
            var (expected, information) = Moments(sample, periods);
            double gradient = first - expected;
            if (gradient > 0) low = beta; else high = beta;
            double next = beta + gradient / information;
            // A step out of the bracket (or no number) is a step too far on a flat stretch: halve the bracket instead.
            if (!(next > low && next < high) && next != beta)
                next = (low + high) / 2;
            double step = Math.Abs(next - beta) * span;
            beta = next;
            // Newton's error is quadratic in its step: with the curvature of the expansion at hand, its size is known.
            if (step <= tolerance || (step < WithinExpansion && step * step * skewness <= tolerance))
                return new Slope(SlopeStatus.Finite, beta, information, i);
        }
        return new Slope(SlopeStatus.NotConverged, double.NaN, 0, MaximumIterations);
    }

    /// <summary>
    /// The slope without each cluster in turn. Refitted exactly up to <paramref name="exactUpTo"/> clusters; beyond, one
    /// Newton step from the slope, which is off by the order of 1/K² of itself.
    /// </summary>
    /// <param name="panel">The panel.</param>
    /// <param name="slope">Its finite slope.</param>
    /// <param name="exactUpTo">How many clusters with units are still refitted one by one.</param>
    /// <returns>One slope a cluster; the slope itself for clusters without a unit; ±∞ or NaN where none is left.</returns>
    public static double[] DeleteOne(PanelCounts panel, Slope slope, int exactUpTo = 100)
    {
        var without = new double[panel.ClusterCount];
        Array.Fill(without, slope.Value);
        int[] present = [.. panel.Clusters.Distinct().Order()];
        if (present.Length <= exactUpTo)
        {
            var sample = new Resample(panel);
            var fit = new TrendFit(panel.Periods);
            var scratch = new int[panel.ClusterCount];
            foreach (int cluster in present)
            {
                sample.FillWithout(cluster, scratch);
                without[cluster] = fit.Fit(sample, panel.Periods, slope.Value, 1e-9).Value;
            }
            return without;
        }

        var score = new double[panel.ClusterCount];
        var information = new double[panel.ClusterCount];
        var expansion = new TrendExpansion(panel, panel.Periods, slope.Value);
        for (int s = 0; s < panel.Units; s++)
        {
            score[panel.Clusters[s]] += panel.Weights[s] * expansion.Score[s];
            information[panel.Clusters[s]] += panel.Weights[s] * expansion.Information[s];
        }
        foreach (int cluster in present)
            without[cluster] = slope.Value - score[cluster] / (slope.Information - information[cluster]);
        return without;
    }

    /// <summary>Whether the maximum is finite: some unit must pull against each direction.</summary>
    private static SlopeStatus Existence(Resample sample, UInt128 periods)
    {
        var panel = sample.Panel;
        bool any = false, againstMinus = false, againstPlus = false;
        foreach (int s in sample.Active)
        {
            var (minus, plus) = Against(panel, s, periods);
            any |= minus || plus;
            againstMinus |= minus;
            againstPlus |= plus;
            if (againstMinus && againstPlus)
                return SlopeStatus.Finite;
        }
        if (!any)
            return SlopeStatus.None;
        return againstMinus ? SlopeStatus.PlusInfinity : SlopeStatus.MinusInfinity;
    }

    /// <summary>
    /// Whether a unit keeps the slope from minus and from plus infinity: it has calls elsewhere than in its first, or last,
    /// surveyed period. With exposure in two periods it does at least one of both, without it neither.
    /// </summary>
    internal static (bool Minus, bool Plus) Against(PanelCounts panel, int unit, UInt128 periods)
    {
        UInt128 surveyed = panel.Surveyed[unit] & periods, heard = panel.Heard[unit] & periods;
        return heard == 0 || UInt128.PopCount(surveyed) < 2
            ? (false, false)
            : (heard != (surveyed & ~(surveyed - 1)), heard != Highest(surveyed));
    }

    private static UInt128 Highest(UInt128 set) => UInt128.One << (127 - (int)UInt128.LeadingZeroCount(set));

    /// <summary>
    /// e^{βd}, and that times d and d². Where seasons follow each other without a gap the powers come from running products,
    /// four seasons at a time.
    /// </summary>
    private void FillPowers(PanelCounts panel, int periods, double middle, double beta)
    {
        double[] times = panel.Times;
        int t = 0;
        if (periods <= panel.EvenPeriods)
        {
            double factor = Math.Exp(beta), square = factor * factor;
            var power = Vector256.Create(1, factor, square, square * factor) * Math.Exp(beta * (times[0] - middle));
            var next = Vector256.Create(square * square);
            var d = Vector256.Create(0.0, 1, 2, 3) + Vector256.Create(times[0] - middle);
            var four = Vector256.Create(4.0);
            for (; t < periods; t += 4)
            {
                var linear = power * d;
                power.CopyTo(_e, t);
                linear.CopyTo(_ed, t);
                (linear * d).CopyTo(_edd, t);
                power *= next;
                d += four;
            }
            return;
        }
        for (; t < periods; t++)
        {
            double d = times[t] - middle, e = Math.Exp(beta * d);
            (_e[t], _ed[t], _edd[t]) = (e, e * d, e * d * d);
        }
    }

    /// <summary>Σ_s m_s Y_s E_s[d] and Σ_s m_s Y_s Var_s[d] under the current p.</summary>
    private (double Expected, double Information) Moments(Resample sample, int periods)
    {
        var panel = sample.Panel;
        int stride = panel.UnitStride;
        ref double exposures = ref MemoryMarshal.GetArrayDataReference(panel.ExposuresByPeriod);
        ref double totals = ref panel.RunningCountsByPeriod[(periods - 1) * stride];
        ref double multipliers = ref MemoryMarshal.GetArrayDataReference(sample.Multipliers);
        ref double e = ref MemoryMarshal.GetArrayDataReference(_e);
        ref double ed = ref MemoryMarshal.GetArrayDataReference(_ed);
        ref double edd = ref MemoryMarshal.GetArrayDataReference(_edd);
        var tiny = Vector256.Create(1e-300);
        Vector256<double> expected = default, information = default;
        // Two vectors of units at a time, so that each power is fetched once for eight units.
        for (nuint s = 0; s < (nuint)stride; s += 2 * PanelCounts.Lanes)
        {
            Vector256<double> s0 = default, s1 = default, s2 = default, z0 = default, z1 = default, z2 = default;
            nuint at = s;
            for (nuint t = 0; t < (nuint)periods; t++, at += (nuint)stride)
            {
                var n = Vector256.LoadUnsafe(ref exposures, at);
                var m = Vector256.LoadUnsafe(ref exposures, at + PanelCounts.Lanes);
                var power = Vector256.Create(Unsafe.Add(ref e, t));
                s0 = Vector256.FusedMultiplyAdd(n, power, s0);
                z0 = Vector256.FusedMultiplyAdd(m, power, z0);
                power = Vector256.Create(Unsafe.Add(ref ed, t));
                s1 = Vector256.FusedMultiplyAdd(n, power, s1);
                z1 = Vector256.FusedMultiplyAdd(m, power, z1);
                power = Vector256.Create(Unsafe.Add(ref edd, t));
                s2 = Vector256.FusedMultiplyAdd(n, power, s2);
                z2 = Vector256.FusedMultiplyAdd(m, power, z2);
            }
            Add(s, s0, s1, s2, ref multipliers, ref totals);
            Add(s + PanelCounts.Lanes, z0, z1, z2, ref multipliers, ref totals);
        }
        return (Vector256.Sum(expected), Vector256.Sum(information));

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        void Add(nuint unit, Vector256<double> sum, Vector256<double> linear, Vector256<double> square, ref double m, ref double y)
        {
            // Units without exposure here have all three sums zero: the floor makes 0/0 a 0.
            sum = Vector256.Max(sum, tiny);
            var mean = linear / sum;
            var weight = Vector256.LoadUnsafe(ref m, unit) * Vector256.LoadUnsafe(ref y, unit);
            expected = Vector256.FusedMultiplyAdd(weight, mean, expected);
            information = Vector256.FusedMultiplyAdd(weight, square / sum - mean * mean, information);
        }
    }
}
