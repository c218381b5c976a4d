using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>
/// The annual model refitted on four resamples at once, one a vector lane, from the sample's own fit.
/// </summary>
/// <remarks>
/// γ ← γ + D⁻¹ P D⁻¹ (c* − μ*(γ)), with P a generalised inverse of the sample's own information and D_t = √(c*_t / c_t):
/// Newton's method with the sample's Hessian scaled to the resample's counts in place of the resample's own, so that no Hessian
/// is built and no factor is made. P is the one without a part along the common constant, M^-½ (M^-½ H M^-½)⁺ M^-½ with M the
/// expected counts: holding one period still instead would leave a weak direction that the scaling spoils. It ends at the same maximum, where c* = μ*. Steps shrink by a roughly constant ratio, which tells how much is
/// left. A period that a resample leaves without counts has no expected ones either and keeps out of its lane: such periods have few counts in the
/// sample, so that what P holds of them hardly matters. A step of the fit costs 2 T multiply-adds a unit and resample. One object a thread; nothing is
/// allocated between fits.
/// </remarks>
public sealed class PeriodRefits
{
    /// <summary>How many resamples are fitted at once.</summary>
    public const int Lanes = PanelCounts.Lanes;

    private const int Units = 8;
    private const int MaximumIterations = 40;

    private readonly int _periods, _clusters;
    private readonly double[] _start, _inverse, _rootCounts, _exposures, _totals;
    private readonly int[] _clusterOf;
    private readonly double[] _gamma, _powers, _means, _step, _move, _scale, _weights, _counts, _live;

    /// <summary>Takes over the sample's fit.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="reference">The reference periods, which the fit was made with.</param>
    public PeriodRefits(PanelCounts panel, ReadOnlySpan<bool> reference)
    {
        var sample = new Resample(panel);
        var fit = new PeriodFit(panel);
        fit.Fit(sample, reference, default, 1e-13);
        (_periods, _clusters, Linked) = (panel.Periods, panel.ClusterCount, fit.Linked);
        _start = fit.Effects.ToArray();
        _rootCounts = [.. Enumerable.Range(0, _periods).Select(t => (Linked >> t & 1) != 0 ? Math.Sqrt(sample.PeriodCounts[t]) : 0)];
        _inverse = Inverse(fit.ModelCovariance(sample), _rootCounts);

        int[] units = [.. Enumerable.Range(0, panel.Units).Where(s => (panel.Heard[s] & Linked) != 0)];
        int padded = (units.Length + Units - 1) / Units * Units;
        (_exposures, _totals, _clusterOf) = (new double[padded * _periods], new double[padded], new int[padded]);
        for (int u = 0; u < units.Length; u++)
        {
            panel.Exposures.AsSpan(units[u] * panel.Stride, _periods).CopyTo(_exposures.AsSpan(u * _periods));
            _totals[u] = panel.Weights[units[u]] * panel.RunningCountsByPeriod[(_periods - 1) * panel.UnitStride + units[u]];
            _clusterOf[u] = panel.Clusters[units[u]];
        }
        double[] PerPeriod() => new double[_periods * Lanes];
        (_gamma, _powers, _means, _step, _move, _scale) = (PerPeriod(), PerPeriod(), PerPeriod(), PerPeriod(), PerPeriod(), PerPeriod());
        (_counts, _live) = (PerPeriod(), PerPeriod());
        _weights = new double[_clusters * Lanes];
    }

    /// <summary>M^-½ (M^-½ H M^-½)⁺ M^-½ from any generalised inverse of H, row after row; 0 for periods without counts.</summary>
    private static double[] Inverse(double[,] generalised, double[] root)
    {
        int n = root.Length;
        double length = Math.Sqrt(root.Sum(r => r * r));
        // Q A Q with A = M^½ G M^½ and Q the projection off the null direction M^½ 1.
        var a = new double[n, n];
        double[] along = new double[n];
        for (int t = 0; t < n; t++)
            for (int u = 0; u < n; u++)
                along[t] += (a[t, u] = root[t] * generalised[t, u] * root[u]) * root[u] / length;
        double both = 0;
        for (int t = 0; t < n; t++)
            both += root[t] / length * along[t];
        var inverse = new double[n * n];
        for (int t = 0; t < n; t++)
            for (int u = 0; u < n; u++)
                if (root[t] > 0 && root[u] > 0)
                    inverse[t * n + u] = (a[t, u] - (root[t] * along[u] + along[t] * root[u]) / length + root[t] * root[u] * both / (length * length)) / (root[t] * root[u]);
        return inverse;
    }

    /// <summary>The periods with a finite effect in the sample.</summary>
    public UInt128 Linked { get; }

    /// <summary>Whether a resample can be fitted here: all periods with counts that are linked in the sample are linked in it, two or more.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="linked">The periods with a finite effect in it.</param>
    public bool Takes(Resample sample, UInt128 linked) => linked == (Linked & sample.Heard) && UInt128.PopCount(linked) >= 2;

    /// <summary>How many steps the last fit took.</summary>
    public int Iterations { get; private set; }

    /// <summary>Puts a resample into a lane.</summary>
    /// <param name="lane">0 to 3. Fill a lane that is not wanted with any resample.</param>
    /// <param name="sample">The resample.</param>
    /// <param name="multiplicities">What it was filled with.</param>
    public void Put(int lane, Resample sample, ReadOnlySpan<int> multiplicities)
    {
        for (int c = 0; c < _clusters; c++)
            _weights[c * Lanes + lane] = multiplicities[c];
        for (int t = 0; t < _periods; t++)
        {
            double live = (Linked & sample.Heard & UInt128.One << t) != 0 ? 1 : 0;
            _live[t * Lanes + lane] = live;
            _counts[t * Lanes + lane] = sample.PeriodCounts[t];
            _gamma[t * Lanes + lane] = live * _start[t];
        }
    }

    /// <summary>Puts a copy of one lane into another.</summary>
    public void Repeat(int from, int lane)
    {
        foreach (double[] values in (ReadOnlySpan<double[]>)[_weights, _counts, _live, _gamma])
            for (int i = 0; i < values.Length; i += Lanes)
                values[i + lane] = values[i + from];
    }

    /// <summary>Fits the four lanes.</summary>
    /// <param name="tolerance">
    /// How far from the maximum any effect may be left, on the log scale, as the steps tell; where next to nothing is heard and a step is a sum of fast and
    /// slow ones, up to six times as far.
    /// </param>
    /// <returns>One flag a lane: fitted.</returns>
    public (bool, bool, bool, bool) Fit(double tolerance = 1e-4)
    {
        Iterations = 0;
        for (int t = 0; t < _periods; t++)
        {
            nuint at = (nuint)(t * Lanes);
            var scale = Vector256.Create(_rootCounts[t]) / Vector256.Sqrt(Vector256.LoadUnsafe(ref _counts[0], at));
            Vector256.ConditionalSelect(Vector256.GreaterThan(Vector256.LoadUnsafe(ref _live[0], at), Vector256<double>.Zero), scale, Vector256<double>.Zero)
                .StoreUnsafe(ref _scale[0], at);
        }
        var before = Vector256.Create(double.PositiveInfinity);
        var limit = Vector256.Create(tolerance);
        var left = before;
        Vector256<double> ratioNow = default;
        while (Iterations < MaximumIterations)
        {
            Iterations++;
            Evaluate();
            var longest = Step();
            // What a geometric series of steps leaves after this one, by the slower of the last two ratios; after the first step nothing is known yet, nor
            // while steps grow.
            var lastRatio = ratioNow;
            ratioNow = longest / before;
            var ratio = Vector256.Max(ratioNow, lastRatio);
            left = Iterations == 1 ? longest
                : Vector256.ConditionalSelect(Vector256.LessThan(ratio, Vector256<double>.One), longest * ratio / (Vector256<double>.One - ratio), before);
            before = longest;
            if (Vector256.LessThanOrEqualAll(left, limit) || !Vector256.LessThanAny(longest, Vector256.Create(double.MaxValue)))
                break;
        }
        var good = Vector256.LessThanOrEqual(left, limit);
        return (good[0] != 0, good[1] != 0, good[2] != 0, good[3] != 0);
    }

    /// <summary>γ of one period in one lane after a fit, up to a constant common to the lane.</summary>
    public double Effect(int lane, int period) => _gamma[period * Lanes + lane];

    /// <summary>μ at γ.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Evaluate()
    {
        ref double gamma = ref MemoryMarshal.GetArrayDataReference(_gamma);
        ref double live = ref MemoryMarshal.GetArrayDataReference(_live);
        ref double powers = ref MemoryMarshal.GetArrayDataReference(_powers);
        ref double means = ref MemoryMarshal.GetArrayDataReference(_means);
        ref double weights = ref MemoryMarshal.GetArrayDataReference(_weights);
        ref double exposures = ref MemoryMarshal.GetArrayDataReference(_exposures);
        int periods = _periods;
        for (int t = 0; t < periods; t++)
            (Vector256.LoadUnsafe(ref live, (nuint)(t * Lanes)) * FourWide.Exp(Vector256.LoadUnsafe(ref gamma, (nuint)(t * Lanes))))
                .StoreUnsafe(ref powers, (nuint)(t * Lanes));
        Array.Clear(_means);
        var tiny = Vector256.Create(1e-300);
        for (int u = 0; u < _totals.Length; u += Units)
        {
            ref double n0 = ref Unsafe.Add(ref exposures, u * periods);
            ref double n1 = ref Unsafe.Add(ref n0, periods);
            ref double n2 = ref Unsafe.Add(ref n1, periods);
            ref double n3 = ref Unsafe.Add(ref n2, periods);
            ref double n4 = ref Unsafe.Add(ref n3, periods);
            ref double n5 = ref Unsafe.Add(ref n4, periods);
            ref double n6 = ref Unsafe.Add(ref n5, periods);
            ref double n7 = ref Unsafe.Add(ref n6, periods);
            Vector256<double> d0 = default, d1 = default, d2 = default, d3 = default;
            Vector256<double> d4 = default, d5 = default, d6 = default, d7 = default;
            for (int t = 0; t < periods; t++)
            {
                var e = Vector256.LoadUnsafe(ref powers, (nuint)(t * Lanes));
                d0 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n0, t)), e, d0);
                d1 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n1, t)), e, d1);
                d2 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n2, t)), e, d2);
                d3 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n3, t)), e, d3);
                d4 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n4, t)), e, d4);
                d5 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n5, t)), e, d5);
                d6 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n6, t)), e, d6);
                d7 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n7, t)), e, d7);
            }
            // A unit that pads the last eight has no exposure: the floor makes its 0/0 a 0.
            d0 = Share(u, d0, tiny, ref weights);
            d1 = Share(u + 1, d1, tiny, ref weights);
            d2 = Share(u + 2, d2, tiny, ref weights);
            d3 = Share(u + 3, d3, tiny, ref weights);
            d4 = Share(u + 4, d4, tiny, ref weights);
            d5 = Share(u + 5, d5, tiny, ref weights);
            d6 = Share(u + 6, d6, tiny, ref weights);
            d7 = Share(u + 7, d7, tiny, ref weights);
            for (int t = 0; t < periods; t++)
            {
                // Two sums, for eight products behind each other would wait for one another.
                var even = Vector256.LoadUnsafe(ref means, (nuint)(t * Lanes));
                var odd = Vector256.Create(Unsafe.Add(ref n1, t)) * d1;
                even = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n0, t)), d0, even);
                even = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n2, t)), d2, even);
                odd = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n3, t)), d3, odd);
                even = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n4, t)), d4, even);
                odd = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n5, t)), d5, odd);
                even = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n6, t)), d6, even);
                odd = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref n7, t)), d7, odd);
                (even + odd).StoreUnsafe(ref means, (nuint)(t * Lanes));
            }
        }
        for (int t = 0; t < periods * Lanes; t += Lanes)
            (Vector256.LoadUnsafe(ref means, (nuint)t) * Vector256.LoadUnsafe(ref powers, (nuint)t)).StoreUnsafe(ref means, (nuint)t);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector256<double> Share(int unit, Vector256<double> sum, Vector256<double> tiny, ref double weights) =>
        Vector256.LoadUnsafe(ref weights, (nuint)(_clusterOf[unit] * Lanes)) * Vector256.Create(_totals[unit]) / Vector256.Max(sum, tiny);

    /// <summary>Moves γ and returns the longest move of each lane.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Vector256<double> Step()
    {
        ref double means = ref MemoryMarshal.GetArrayDataReference(_means);
        ref double counts = ref MemoryMarshal.GetArrayDataReference(_counts);
        ref double scale = ref MemoryMarshal.GetArrayDataReference(_scale);
        ref double step = ref MemoryMarshal.GetArrayDataReference(_step);
        ref double gamma = ref MemoryMarshal.GetArrayDataReference(_gamma);
        ref double move = ref MemoryMarshal.GetArrayDataReference(_move);
        ref double inverse = ref MemoryMarshal.GetArrayDataReference(_inverse);
        int periods = _periods;
        for (int t = 0; t < periods * Lanes; t += Lanes)
        {
            nuint at = (nuint)t;
            ((Vector256.LoadUnsafe(ref counts, at) - Vector256.LoadUnsafe(ref means, at)) * Vector256.LoadUnsafe(ref scale, at)).StoreUnsafe(ref step, at);
        }
        Vector256<double> longest = default;
        // Four rows at a time; the last ones overlap, for a row done twice comes out the same.
        for (int row = 0; row < periods; row += 4)
        {
            int t = Math.Max(0, Math.Min(row, periods - 4)), rows = Math.Min(4, periods);
            ref double r0 = ref Unsafe.Add(ref inverse, t * periods);
            ref double r1 = ref Unsafe.Add(ref r0, rows > 1 ? periods : 0);
            ref double r2 = ref Unsafe.Add(ref r1, rows > 2 ? periods : 0);
            ref double r3 = ref Unsafe.Add(ref r2, rows > 3 ? periods : 0);
            Vector256<double> m0 = default, m1 = default, m2 = default, m3 = default;
            for (int u = 0; u < periods; u++)
            {
                var s = Vector256.LoadUnsafe(ref step, (nuint)(u * Lanes));
                m0 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref r0, u)), s, m0);
                m1 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref r1, u)), s, m1);
                m2 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref r2, u)), s, m2);
                m3 = Vector256.FusedMultiplyAdd(Vector256.Create(Unsafe.Add(ref r3, u)), s, m3);
            }
            m0.StoreUnsafe(ref move, (nuint)(t * Lanes));
            if (rows > 1)
                m1.StoreUnsafe(ref move, (nuint)((t + 1) * Lanes));
            if (rows > 2)
                m2.StoreUnsafe(ref move, (nuint)((t + 2) * Lanes));
            if (rows > 3)
                m3.StoreUnsafe(ref move, (nuint)((t + 3) * Lanes));
        }
        for (int t = 0; t < periods * Lanes; t += Lanes)
        {
            nuint at = (nuint)t;
            var moved = Vector256.LoadUnsafe(ref move, at) * Vector256.LoadUnsafe(ref scale, at);
            longest = Vector256.Max(longest, Vector256.Abs(moved));
            (Vector256.LoadUnsafe(ref gamma, at) + moved).StoreUnsafe(ref gamma, at);
        }
        return longest;
    }
}
