using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>
/// The first four derivatives of every unit's conditional log-likelihood at the sample's slope. A resample's derivatives
/// there are their weighted sums, which gives its slope, or a start very near it, without a single exponential.
/// </summary>
public sealed class TrendExpansion
{
    /// <summary>
    /// What the expansion leaves out of the root, times the inverse fourth power of the distance over the whole span: for
    /// counts spread evenly over the span a fifth-order 1/2,500, for uneven ones a fourth-order 1/1,000 or less; a third of that.
    /// </summary>
    private const double Margin = 300;

    private readonly double[] _third, _fourth;

    /// <summary>Expands at a finite slope over the panel's first periods.</summary>
    public TrendExpansion(PanelCounts panel, int periods, double slope)
    {
        (Periods, Slope) = (periods, slope);
        double[] score = new double[panel.UnitStride], information = new double[panel.UnitStride];
        double[] third = new double[panel.UnitStride], fourth = new double[panel.UnitStride];
        double middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        Span = panel.Times[periods - 1] - panel.Times[0];
        Span<double> d = stackalloc double[periods], power = stackalloc double[periods];
        for (int t = 0; t < periods; t++)
            (d[t], power[t]) = (panel.Times[t] - middle, Math.Exp(slope * (panel.Times[t] - middle)));
        for (int s = 0; s < panel.Units; s++)
        {
            double s0 = 0, s1 = 0, s2 = 0, s3 = 0, s4 = 0, total = 0, observed = 0;
            var exposures = panel.Exposures.AsSpan(s * panel.Stride, periods);
            var counts = panel.Counts.AsSpan(s * panel.Stride, periods);
            for (int t = 0; t < periods; t++)
            {
                double e0 = exposures[t] * power[t], e1 = e0 * d[t], e2 = e1 * d[t], e3 = e2 * d[t];
                (s0, s1, s2, s3, s4) = (s0 + e0, s1 + e1, s2 + e2, s3 + e3, s4 + e3 * d[t]);
                (total, observed) = (total + counts[t], observed + counts[t] * d[t]);
            }
            if (s0 == 0)
                continue;
            (s1, s2, s3, s4) = (s1 / s0, s2 / s0, s3 / s0, s4 / s0);
            double square = s1 * s1, variance = s2 - square;
            score[s] = observed - total * s1;
            information[s] = total * variance;
            third[s] = total * (s3 - 3 * s1 * s2 + 2 * s1 * square);
            fourth[s] = total * (s4 - 4 * s1 * s3 + 6 * square * s2 - 3 * square * square - 3 * variance * variance);
        }
        (Score, Information, _third, _fourth) = (score, information, third, fourth);
    }

    /// <summary>The first derivative of each unit's log-likelihood, padded with zeros.</summary>
    internal double[] Score { get; }

    /// <summary>Minus the second.</summary>
    internal double[] Information { get; }

    /// <summary>Minus the third.</summary>
    internal ReadOnlySpan<double> Third => _third;

    /// <summary>Minus the fourth.</summary>
    internal ReadOnlySpan<double> Fourth => _fourth;

    /// <summary>How many periods, from the first.</summary>
    public int Periods { get; }

    /// <summary>The time from the first to the last period.</summary>
    internal double Span { get; }

    /// <summary>Where it is expanded.</summary>
    public double Slope { get; }

    /// <summary>Whether a step is short enough to be right to a tolerance on the log scale over the whole span.</summary>
    internal bool Reaches(double step, double tolerance)
    {
        double square = step * Span * step * Span;
        return square * square <= Margin * tolerance;
    }

    /// <summary>
    /// The resample's step from <see cref="Slope"/>, and |third / information| over the span: what a later Newton step's
    /// square is multiplied by to give its error; and the information where it is expanded.
    /// </summary>
    internal (double Step, double Skewness, double Information) Step(Resample sample)
    {
        ref double multipliers = ref MemoryMarshal.GetArrayDataReference(sample.Multipliers);
        ref double score = ref MemoryMarshal.GetArrayDataReference(Score);
        ref double information = ref MemoryMarshal.GetArrayDataReference(Information);
        ref double third = ref MemoryMarshal.GetArrayDataReference(_third);
        ref double fourth = ref MemoryMarshal.GetArrayDataReference(_fourth);
        Vector256<double> g = default, h = default, c = default, q = default;
        for (nuint s = 0; s < (nuint)Score.Length; s += PanelCounts.Lanes)
        {
            var m = Vector256.LoadUnsafe(ref multipliers, s);
            g = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref score, s), g);
            h = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref information, s), h);
            c = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref third, s), c);
            q = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref fourth, s), q);
        }
        double curvature = Vector256.Sum(h), bend = Vector256.Sum(c);
        var step = Root(
            Vector256.Create(Vector256.Sum(g)), Vector256.Create(curvature), Vector256.Create(bend), Vector256.Create(Vector256.Sum(q)));
        // Twice the expansion's own skewness, for it may grow on the way to the maximum.
        return (step[0], Math.Abs(bend / curvature) / Span, curvature);
    }

    /// <summary>
    /// The root near zero of g − h δ − c δ²/2 − q δ³/6: that of the quadratic, or Newton's first step where it has none, and
    /// two steps of Newton's method.
    /// </summary>
    internal static Vector256<double> Root(Vector256<double> g, Vector256<double> h, Vector256<double> c, Vector256<double> q)
    {
        var half = Vector256.Create(0.5);
        var discriminant = h * h + Vector256.Create(2.0) * g * c;
        var quadratic = Vector256.Create(2.0) * g / (h + Vector256.Sqrt(discriminant));
        var delta = Vector256.ConditionalSelect(Vector256.GreaterThan(discriminant, Vector256<double>.Zero), quadratic, g / h);
        for (int i = 0; i < 2; i++)
        {
            var bend = q * delta;
            var value = g - delta * (h + half * delta * (c + bend * Vector256.Create(1.0 / 3)));
            var slope = h + delta * (c + half * bend);
            var next = delta + value / slope;
            // Where the cubic turns, its root is none of ours: what the quadratic gave stands.
            delta = Vector256.ConditionalSelect(Vector256.GreaterThan(slope, Vector256<double>.Zero), next, delta);
        }
        return delta;
    }
}
