using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>
/// The first three derivatives of every unit's conditional log-likelihood at the sample's slope. A resample's derivatives
/// there are their weighted sums, which gives its first step without a single exponential.
/// </summary>
public sealed class TrendExpansion
{
    private readonly double[] _third;

    /// <summary>Expands at a finite slope over the panel's first periods.</summary>
    public TrendExpansion(PanelCounts panel, int periods, double slope)
    {
        (Periods, Slope) = (periods, slope);
        double[] score = new double[panel.UnitStride], information = new double[panel.UnitStride], third = new double[panel.UnitStride];
        double middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        Span = panel.Times[periods - 1] - panel.Times[0];
        for (int s = 0; s < panel.Units; s++)
        {
            double s0 = 0, s1 = 0, s2 = 0, s3 = 0, total = 0, observed = 0;
            for (int t = 0; t < periods; t++)
            {
                double d = panel.Times[t] - middle, e = panel.Exposure(s, t) * Math.Exp(slope * d), y = panel.Count(s, t);
                (s0, s1, s2, s3) = (s0 + e, s1 + e * d, s2 + e * d * d, s3 + e * d * d * d);
                (total, observed) = (total + y, observed + y * d);
            }
            if (s0 == 0)
                continue;
            double mean = s1 / s0, variance = s2 / s0 - mean * mean;
            score[s] = observed - total * mean;
            information[s] = total * variance;
            third[s] = total * (s3 / s0 - 3 * mean * s2 / s0 + 2 * mean * mean * mean);
        }
        (Score, Information, _third) = (score, information, third);
    }

    /// <summary>The first derivative of each unit's log-likelihood, padded with zeros.</summary>
    internal double[] Score { get; }

    /// <summary>Minus the second.</summary>
    internal double[] Information { get; }

    /// <summary>How many periods, from the first.</summary>
    public int Periods { get; }

    /// <summary>The time from the first to the last period.</summary>
    internal double Span { get; }

    /// <summary>Where it is expanded.</summary>
    public double Slope { get; }

    /// <summary>
    /// The resample's first step from <see cref="Slope"/>, and |third / (2 information)| over the span: what a later
    /// Newton step's square is multiplied by to give its error; and the information where it is expanded.
    /// </summary>
    internal (double Step, double Skewness, double Information) Step(Resample sample)
    {
        ref double multipliers = ref MemoryMarshal.GetArrayDataReference(sample.Multipliers);
        ref double score = ref MemoryMarshal.GetArrayDataReference(Score);
        ref double information = ref MemoryMarshal.GetArrayDataReference(Information);
        ref double third = ref MemoryMarshal.GetArrayDataReference(_third);
        Vector256<double> g = default, h = default, c = default;
        for (nuint s = 0; s < (nuint)Score.Length; s += PanelCounts.Lanes)
        {
            var m = Vector256.LoadUnsafe(ref multipliers, s);
            g = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref score, s), g);
            h = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref information, s), h);
            c = Vector256.FusedMultiplyAdd(m, Vector256.LoadUnsafe(ref third, s), c);
        }
        double gradient = Vector256.Sum(g), curvature = Vector256.Sum(h), bend = Vector256.Sum(c);
        // gradient − curvature δ − bend δ²/2 = 0, the root near zero; without one, plain Newton.
        double discriminant = curvature * curvature + 2 * gradient * bend;
        double step = discriminant > 0 ? 2 * gradient / (curvature + Math.Sqrt(discriminant)) : gradient / curvature;
        // Twice the expansion's own skewness, for it may grow on the way to the maximum.
        return (step, Math.Abs(bend / curvature) / Span, curvature);
    }
}
