using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>
/// Expected counts of a resample under given period effects, unit effects profiled out, and the cross products that its
/// Hessian needs: what every fit of period effects evaluates at each step. One object a thread; nothing is allocated.
/// </summary>
internal sealed class ExpectedCounts
{
    private readonly int _stride;
    private readonly double[] _block;

    /// <summary>A workspace for one panel.</summary>
    public ExpectedCounts(PanelCounts panel)
    {
        _stride = panel.Stride;
        Powers = new double[_stride];
        Means = new double[_stride];
        Cross = new double[_stride * _stride];
        _block = new double[CrossProducts.Block * _stride];
    }

    /// <summary>e to the effect of each period, padded; set by the caller, 0 for periods that are left out.</summary>
    public double[] Powers { get; }

    /// <summary>μ_t = Σ_s m_s Y_s p_st of each period, padded.</summary>
    public double[] Means { get; }

    /// <summary>Σ_s (m_s Y_s / D_s²) n_s n_sᵀ with D_s = Σ_t n_st e^γ_t: the upper triangle, rows padded to the panel's stride.</summary>
    public double[] Cross { get; }

    /// <summary>Evaluates at <see cref="Powers"/>.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="linked">
    /// The periods that count. A unit with counts outside them has none inside, so its whole count is what it has inside or nothing.
    /// </param>
    /// <param name="withCross">Whether <see cref="Cross"/> is wanted too; it is left as it was otherwise.</param>
    public void Evaluate(Resample sample, UInt128 linked, bool withCross)
    {
        if (withCross)
            Array.Clear(Cross);
        Array.Clear(Means);
        var panel = sample.Panel;
        int periods = panel.Periods, stride = _stride, width = (periods + 3) / 4 * 4, filled = 0;
        ref double exposures = ref MemoryMarshal.GetArrayDataReference(panel.Exposures);
        ref double e = ref MemoryMarshal.GetArrayDataReference(Powers);
        ref double mu = ref MemoryMarshal.GetArrayDataReference(Means);
        ref double block = ref MemoryMarshal.GetArrayDataReference(_block);
        foreach (int s in sample.Active)
        {
            if ((panel.Heard[s] & linked) == 0)
                continue;
            double total = panel.RunningCountsByPeriod[(periods - 1) * panel.UnitStride + s];
            nuint row = (nuint)(s * stride);
            Vector256<double> sum = default;
            for (int t = 0; t < width; t += 4)
                sum = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref exposures, row + (nuint)t), Vector256.LoadUnsafe(ref e, (nuint)t), sum);
            double d = Vector256.Sum(sum), v = sample.Multipliers[s] * total / d;
            var share = Vector256.Create(v);
            for (int t = 0; t < width; t += 4)
                Vector256.FusedMultiplyAdd(share, Vector256.LoadUnsafe(ref exposures, row + (nuint)t), Vector256.LoadUnsafe(ref mu, (nuint)t))
                    .StoreUnsafe(ref mu, (nuint)t);
            if (!withCross)
                continue;
            var root = Vector256.Create(Math.Sqrt(v / d));
            nuint place = (nuint)(filled * stride);
            for (int t = 0; t < width; t += 4)
                (root * Vector256.LoadUnsafe(ref exposures, row + (nuint)t)).StoreUnsafe(ref block, place + (nuint)t);
            if (++filled == CrossProducts.Block)
            {
                CrossProducts.Add(_block, filled, stride, periods, Cross);
                filled = 0;
            }
        }
        if (filled > 0)
            CrossProducts.Add(_block, filled, stride, periods, Cross);
        for (int t = 0; t < periods; t++)
            Means[t] *= Powers[t];
    }
}
