namespace Indicators.Statistics.Panels;

/// <summary>
/// One resample of a panel: how much each unit counts, and the sums that follow. Made once per thread and filled again
/// for every resample; nothing is allocated in between.
/// </summary>
public sealed class Resample
{
    private readonly int[] _active;
    private readonly UInt128[] _links;

    /// <summary>A workspace for one panel.</summary>
    public Resample(PanelCounts panel)
    {
        Panel = panel;
        Multipliers = new double[panel.UnitStride];
        PeriodCounts = new double[panel.Stride];
        _active = new int[panel.Units];
        _links = new UInt128[panel.Periods];
        FillOnce();
    }

    /// <summary>The panel that is resampled.</summary>
    public PanelCounts Panel { get; }

    /// <summary>Weight times multiplicity of each unit, padded with zeros.</summary>
    internal double[] Multipliers { get; }

    /// <summary>Σ_s m_s y_st of each period, padded with zeros.</summary>
    internal double[] PeriodCounts { get; }

    /// <summary>The units that are in the resample.</summary>
    internal ReadOnlySpan<int> Active => _active.AsSpan(0, ActiveCount);

    internal int ActiveCount { get; private set; }

    /// <summary>
    /// Row t, bit u: some unit of the resample has counts in t and exposure in u. What decides which effects exist.
    /// </summary>
    internal ReadOnlySpan<UInt128> Links => _links;

    /// <summary>The sample itself: every cluster once.</summary>
    public void FillOnce() => Fill(default);

    /// <summary>The sample with each cluster as often as given; the multiplicities' order is that of the cluster numbers.</summary>
    /// <param name="multiplicities">One a cluster; empty for once each.</param>
    public void Fill(ReadOnlySpan<int> multiplicities)
    {
        var panel = Panel;
        int vectors = panel.Stride;
        Array.Clear(PeriodCounts);
        Array.Clear(_links);
        ActiveCount = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            double m = panel.Weights[s] * (multiplicities.IsEmpty ? 1 : multiplicities[panel.Clusters[s]]);
            Multipliers[s] = m;
            if (m == 0)
                continue;
            _active[ActiveCount++] = s;
            UInt128 surveyed = panel.Surveyed[s];
            for (UInt128 heard = panel.Heard[s]; heard != 0; heard &= heard - 1)
            {
                int t = (int)UInt128.TrailingZeroCount(heard);
                _links[t] |= surveyed;
                PeriodCounts[t] += m * panel.Counts[s * vectors + t];
            }
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
