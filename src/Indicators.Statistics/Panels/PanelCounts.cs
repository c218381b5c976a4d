namespace Indicators.Statistics.Panels;

/// <summary>
/// Counts of units over periods, with exposure: what the conditional Poisson models are fitted to.
/// </summary>
/// <remarks>
/// Unit s has count y_st ≥ 0 over exposure n_st ≥ 0 in period t; where n is 0 there is no cell and y must be 0. A unit's
/// weight multiplies its whole contribution; units of one cluster are resampled together. Counts need not be whole.
/// Arrays are held twice, by unit and by period, padded with zeros to whole vectors, because the two fits read them in
/// opposite orders.
/// </remarks>
public sealed class PanelCounts
{
    /// <summary>The most periods a panel can hold.</summary>
    public const int MaximumPeriods = 128;

    internal const int Lanes = 4;

    /// <summary>Checks and copies a panel.</summary>
    /// <param name="times">The time of each period, strictly increasing, in periods; gaps count.</param>
    /// <param name="counts">y, unit after unit, one value a period.</param>
    /// <param name="exposures">n, laid out the same.</param>
    /// <param name="weights">One weight a unit, greater than 0; empty for 1 each.</param>
    /// <param name="clusters">One cluster number from 0 a unit; empty when every unit is its own.</param>
    /// <param name="clusterCount">How many clusters there are, units or none; 0 for as many as the numbers need.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is out of range: a bug of the caller.</exception>
    public PanelCounts(
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> counts,
        ReadOnlySpan<double> exposures,
        ReadOnlySpan<double> weights = default,
        ReadOnlySpan<int> clusters = default,
        int clusterCount = 0)
    {
        Periods = times.Length;
        if (Periods is 0 or > MaximumPeriods) throw new ArgumentException($"1 to {MaximumPeriods} periods.", nameof(times));
        Units = counts.Length / Periods;
        if (Units == 0 || counts.Length != Units * Periods || exposures.Length != counts.Length)
            throw new ArgumentException("Counts and exposures need one value a unit and period.", nameof(counts));
        if (!weights.IsEmpty && weights.Length != Units) throw new ArgumentException("One weight a unit.", nameof(weights));
        if (!clusters.IsEmpty && clusters.Length != Units) throw new ArgumentException("One cluster a unit.", nameof(clusters));

        Times = times.ToArray();
        for (int t = 1; t < Periods; t++)
            if (!(Times[t] > Times[t - 1])) throw new ArgumentException("Times must increase.", nameof(times));

        EvenPeriods = 1;
        while (EvenPeriods < Periods && Times[EvenPeriods] - Times[EvenPeriods - 1] == 1)
            EvenPeriods++;

        Stride = (Periods + Lanes - 1) / Lanes * Lanes + Lanes;
        UnitStride = (Units + 2 * Lanes - 1) / (2 * Lanes) * (2 * Lanes);
        Counts = new double[Units * Stride];
        Exposures = new double[Units * Stride];
        ExposuresByPeriod = new double[Periods * UnitStride];
        RunningCountsByPeriod = new double[Periods * UnitStride];
        Weights = new double[UnitStride];
        Clusters = new int[Units];
        Surveyed = new UInt128[Units];
        Heard = new UInt128[Units];
        HasCounts = new int[Units];
        int highest = -1;
        for (int s = 0; s < Units; s++)
        {
            double weight = weights.IsEmpty ? 1 : weights[s];
            if (!(weight > 0 && double.IsFinite(weight))) throw new ArgumentException("Weights are positive and finite.", nameof(weights));
            Weights[s] = weight;
            Clusters[s] = clusters.IsEmpty ? s : clusters[s];
            if (Clusters[s] < 0) throw new ArgumentException("Clusters count from 0.", nameof(clusters));
            highest = Math.Max(highest, Clusters[s]);
            double running = 0;
            for (int t = 0; t < Periods; t++)
            {
                double y = counts[s * Periods + t], n = exposures[s * Periods + t];
                if (!(y >= 0 && n >= 0 && double.IsFinite(y) && double.IsFinite(n)) || (n == 0 && y > 0))
                    throw new ArgumentException("Counts and exposures are finite, not negative, and no count stands without exposure.", nameof(counts));
                Counts[s * Stride + t] = y;
                Exposures[s * Stride + t] = n;
                ExposuresByPeriod[t * UnitStride + s] = n;
                RunningCountsByPeriod[t * UnitStride + s] = running += y;
                if (n > 0) Surveyed[s] |= UInt128.One << t;
                if (y > 0) Heard[s] |= UInt128.One << t;
            }
            HasCounts[s] = Heard[s] != 0 ? 1 : 0;
        }
        ClusterCount = clusterCount == 0 ? highest + 1 : clusterCount;
        if (highest >= ClusterCount) throw new ArgumentException("A cluster number is too high.", nameof(clusters));
        OneEach = [.. Enumerable.Repeat(1, ClusterCount)];
    }

    /// <summary>How many units there are.</summary>
    public int Units { get; }

    /// <summary>How many periods there are.</summary>
    public int Periods { get; }

    /// <summary>How many clusters are resampled, those without a unit of this panel included.</summary>
    public int ClusterCount { get; }

    /// <summary>The time of each period.</summary>
    public double[] Times { get; }

    /// <summary>How many of the first periods follow each other one apart.</summary>
    internal int EvenPeriods { get; }

    internal int Stride { get; }

    internal int UnitStride { get; }

    internal double[] Counts { get; }

    internal double[] Exposures { get; }

    internal double[] ExposuresByPeriod { get; }

    /// <summary>Σ of y up to and including each period, by period.</summary>
    internal double[] RunningCountsByPeriod { get; }

    internal double[] Weights { get; }

    internal int[] Clusters { get; }

    /// <summary>Bit t of unit s: n_st &gt; 0.</summary>
    internal UInt128[] Surveyed { get; }

    /// <summary>Bit t of unit s: y_st &gt; 0.</summary>
    internal UInt128[] Heard { get; }

    /// <summary>1 for each unit with counts, 0 for the others.</summary>
    internal int[] HasCounts { get; }

    /// <summary>Every cluster once.</summary>
    internal int[] OneEach { get; }

    /// <summary>The count of a unit in a period.</summary>
    public double Count(int unit, int period) => Counts[unit * Stride + period];

    /// <summary>The exposure of a unit in a period.</summary>
    public double Exposure(int unit, int period) => Exposures[unit * Stride + period];

    /// <summary>How many cells (unit and period with exposure) there are, and how many of them count 0.</summary>
    public (int Cells, int Zero) CountCells()
    {
        int cells = 0, heard = 0;
        for (int s = 0; s < Units; s++)
            (cells, heard) = (cells + (int)UInt128.PopCount(Surveyed[s]), heard + (int)UInt128.PopCount(Heard[s]));
        return (cells, cells - heard);
    }

    /// <summary>The cluster of a unit.</summary>
    public int ClusterOf(int unit) => Clusters[unit];

    /// <summary>The weight of a unit.</summary>
    public double WeightOf(int unit) => Weights[unit];

    /// <summary>
    /// K: clusters with a unit that has counts and exposure in two periods or more, looking at the first periods only.
    /// </summary>
    /// <param name="periods">How many periods to look at, from the first.</param>
    public int InformativeClusters(int periods)
    {
        var first = PeriodMask.First(periods);
        var seen = new bool[ClusterCount];
        int count = 0;
        for (int s = 0; s < Units; s++)
        {
            if ((Heard[s] & first) == 0 || UInt128.PopCount(Surveyed[s] & first) < 2 || seen[Clusters[s]])
                continue;
            seen[Clusters[s]] = true;
            count++;
        }
        return count;
    }

    /// <summary>
    /// T: periods in which a unit was surveyed that has counts and was surveyed in two periods or more, looking at the first periods only. Another period says nothing of a slope.
    /// </summary>
    /// <param name="periods">How many periods to look at, from the first.</param>
    public int InformativePeriods(int periods)
    {
        UInt128 first = PeriodMask.First(periods), telling = 0;
        for (int s = 0; s < Units; s++)
            if ((Heard[s] & first) != 0 && UInt128.PopCount(Surveyed[s] & first) >= 2) telling |= Surveyed[s] & first;
        return (int)UInt128.PopCount(telling);
    }
}

/// <summary>Sets of periods as bits.</summary>
internal static class PeriodMask
{
    /// <summary>The set of the first so many periods.</summary>
    public static UInt128 First(int periods) => periods >= 128 ? UInt128.MaxValue : (UInt128.One << periods) - 1;
}
