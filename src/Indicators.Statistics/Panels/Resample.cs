using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Panels;

/// <summary>
/// One resample of a panel: how much each unit counts, and the sums that follow. Made once per thread and filled again
/// for every resample; nothing is allocated in between.
/// </summary>
public sealed class Resample
{
    private readonly int[] _active;

    /// <summary>A workspace for one panel, filled with the sample itself.</summary>
    public Resample(PanelCounts panel)
    {
        Panel = panel;
        Multipliers = new double[panel.UnitStride];
        PeriodCounts = new double[panel.Stride];
        // One place more, for the unit that was looked at last and does not count.
        _active = new int[panel.Units + 1];
        FillOnce();
    }

    /// <summary>The panel that is resampled.</summary>
    public PanelCounts Panel { get; }

    /// <summary>Weight times multiplicity of each unit, padded with zeros.</summary>
    internal double[] Multipliers { get; }

    /// <summary>Σ_s m_s y_st of each period, padded with zeros.</summary>
    internal double[] PeriodCounts { get; }

    /// <summary>The units that are in the resample and have counts.</summary>
    internal ReadOnlySpan<int> Active => _active.AsSpan(0, ActiveCount);

    internal int ActiveCount { get; private set; }

    /// <summary>The periods in which some active unit has counts, as bits.</summary>
    internal UInt128 Heard { get; private set; }

    /// <summary>The periods in which some active unit has exposure, as bits.</summary>
    internal UInt128 Surveyed { get; private set; }

    /// <summary>The sample itself: every cluster once.</summary>
    public void FillOnce() => Fill(default);

    /// <summary>The sample with each cluster as often as given; the multiplicities' order is that of the cluster numbers.</summary>
    /// <param name="multiplicities">One a cluster; empty for once each.</param>
    public void Fill(ReadOnlySpan<int> multiplicities)
    {
        var panel = Panel;
        if (multiplicities.IsEmpty)
            multiplicities = panel.OneEach;
        if (multiplicities.Length < panel.ClusterCount)
            throw new ArgumentException("One multiplicity a cluster.", nameof(multiplicities));
        int active = 0;
        ref int times = ref MemoryMarshal.GetReference(multiplicities), clusters = ref MemoryMarshal.GetArrayDataReference(panel.Clusters);
        ref int counting = ref MemoryMarshal.GetArrayDataReference(panel.HasCounts), gathered = ref MemoryMarshal.GetArrayDataReference(_active);
        ref double weights = ref MemoryMarshal.GetArrayDataReference(panel.Weights), multipliers = ref MemoryMarshal.GetArrayDataReference(Multipliers);
        // Which units count is as good as random, so they are gathered without a branch: −m has its highest bit where m is not 0.
        for (int s = 0; s < panel.Units; s++)
        {
            int m = Unsafe.Add(ref times, Unsafe.Add(ref clusters, s));
            Unsafe.Add(ref multipliers, s) = Unsafe.Add(ref weights, s) * m;
            Unsafe.Add(ref gathered, active) = s;
            active += -m >>> 31 & Unsafe.Add(ref counting, s);
        }
        ActiveCount = active;
        Vector128<ulong> heard = default, surveyed = default;
        ref var heardBits = ref Unsafe.As<UInt128, Vector128<ulong>>(ref MemoryMarshal.GetArrayDataReference(panel.Heard));
        ref var surveyedBits = ref Unsafe.As<UInt128, Vector128<ulong>>(ref MemoryMarshal.GetArrayDataReference(panel.Surveyed));
        foreach (int s in Active)
        {
            heard |= Unsafe.Add(ref heardBits, s);
            surveyed |= Unsafe.Add(ref surveyedBits, s);
        }
        (Heard, Surveyed) = (Unsafe.BitCast<Vector128<ulong>, UInt128>(heard), Unsafe.BitCast<Vector128<ulong>, UInt128>(surveyed));
        SumPeriods();
    }

    /// <summary>Sums the counts of the active units, sixteen periods at a time, which stay in registers.</summary>
    private void SumPeriods()
    {
        var panel = Panel;
        int stride = panel.Stride;
        const int L = PanelCounts.Lanes;
        ref double counts = ref MemoryMarshal.GetArrayDataReference(panel.Counts);
        ref double sums = ref MemoryMarshal.GetArrayDataReference(PeriodCounts);
        int t = 0;
        for (; t + 3 * L < panel.Periods; t += 4 * L)
        {
            Vector256<double> a = default, b = default, c = default, d = default;
            foreach (int s in Active)
            {
                var times = Vector256.Create(Multipliers[s]);
                nuint row = (nuint)(s * stride + t);
                a = Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref counts, row), a);
                b = Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref counts, row + L), b);
                c = Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref counts, row + 2 * L), c);
                d = Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref counts, row + 3 * L), d);
            }
            a.StoreUnsafe(ref sums, (nuint)t);
            b.StoreUnsafe(ref sums, (nuint)(t + L));
            c.StoreUnsafe(ref sums, (nuint)(t + 2 * L));
            d.StoreUnsafe(ref sums, (nuint)(t + 3 * L));
        }
        for (; t < panel.Periods; t += L)
        {
            Vector256<double> a = default;
            foreach (int s in Active)
                a = Vector256.FusedMultiplyAdd(Vector256.Create(Multipliers[s]), Vector256.LoadUnsafe(ref counts, (nuint)(s * stride + t)), a);
            a.StoreUnsafe(ref sums, (nuint)t);
        }
    }

    /// <summary>The sample without one cluster: the jackknife's.</summary>
    /// <param name="cluster">The cluster left out.</param>
    /// <param name="scratch">One place a cluster; overwritten.</param>
    public void FillWithout(int cluster, Span<int> scratch)
    {
        scratch.Fill(1);
        scratch[cluster] = 0;
        Fill(scratch);
    }
}
