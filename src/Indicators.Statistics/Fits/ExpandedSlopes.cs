using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Statistics.Fits;

/// <summary>A slope to be refitted: of one panel, over its first periods.</summary>
/// <param name="Panel">The panel. All slopes refitted together have the same clusters.</param>
/// <param name="Periods">How many periods, from the first.</param>
/// <param name="Slope">The sample's own finite slope.</param>
public sealed record SlopeToRefit(PanelCounts Panel, int Periods, double Slope);

/// <summary>
/// Many trends of the same clusters refitted on resamples at once: where a slope's expansion reaches, from sums over clusters
/// alone, four slopes in one vector; where it does not, by Newton's method.
/// </summary>
public sealed class ExpandedSlopes
{
    private const int Derivatives = 4;

    private readonly SlopeToRefit[] _slopes;
    private readonly TrendExpansion[] _expansions;
    private readonly int _padded;
    private readonly int[] _clusters;
    private readonly UInt128[] _againstMinus, _againstPlus;

    /// <summary>Expands every slope.</summary>
    /// <param name="slopes">At least one, 128 at most.</param>
    public ExpandedSlopes(IReadOnlyList<SlopeToRefit> slopes)
    {
        if (slopes.Count is 0 or > 128) throw new ArgumentException("1 to 128 slopes.", nameof(slopes));
        _slopes = [.. slopes];
        _expansions = new TrendExpansion[_slopes.Length];
        _padded = (_slopes.Length + PanelCounts.Lanes - 1) / PanelCounts.Lanes * PanelCounts.Lanes;
        _clusters = [.. _slopes.SelectMany(s => s.Panel.Clusters).Distinct().Order()];
        var row = new int[slopes[0].Panel.ClusterCount];
        for (int i = 0; i < _clusters.Length; i++)
            row[_clusters[i]] = i;
        int columns = Derivatives * _padded;
        var values = new double[_clusters.Length * columns];
        (_againstMinus, _againstPlus) = (new UInt128[_clusters.Length], new UInt128[_clusters.Length]);
        for (int i = 0; i < _slopes.Length; i++)
        {
            var panel = _slopes[i].Panel;
            var expansion = _expansions[i] = new TrendExpansion(panel, _slopes[i].Periods, _slopes[i].Slope);
            var mask = PeriodMask.First(_slopes[i].Periods);
            for (int s = 0; s < panel.Units; s++)
            {
                int cluster = row[panel.Clusters[s]], at = cluster * columns + i;
                double weight = panel.Weights[s];
                values[at] += weight * expansion.Score[s];
                values[at + _padded] += weight * expansion.Information[s];
                values[at + 2 * _padded] += weight * expansion.Third[s];
                values[at + 3 * _padded] += weight * expansion.Fourth[s];
                var (minus, plus) = TrendFit.Against(panel, s, mask);
                _againstMinus[cluster] |= (minus ? UInt128.One : 0) << i;
                _againstPlus[cluster] |= (plus ? UInt128.One : 0) << i;
            }
        }
        Columns = new ClusterColumns(_clusters, values);
    }

    /// <summary>How many slopes there are.</summary>
    public int Count => _slopes.Length;

    /// <summary>The expansions' derivatives by cluster, for a block of resamples to be summed at once.</summary>
    public ClusterColumns Columns { get; }

    /// <summary>What one thread needs.</summary>
    public sealed class Workspace(ExpandedSlopes slopes)
    {
        private readonly Dictionary<PanelCounts, Resample> _samples = [];
        private readonly HashSet<PanelCounts> _filled = [];

        /// <summary>The slopes of the last resample.</summary>
        public double[] Slopes { get; } = new double[slopes.Count];

        internal TrendFit Trend { get; } = new(slopes._slopes.Max(s => s.Panel.Periods));

        internal void Next() => _filled.Clear();

        internal Resample Filled(PanelCounts panel, ReadOnlySpan<int> multiplicities)
        {
            if (!_samples.TryGetValue(panel, out var sample))
                _samples[panel] = sample = new Resample(panel);
            if (_filled.Add(panel))
                sample.Fill(multiplicities);
            return sample;
        }
    }

    /// <summary>Refits one resample; the slopes are then in the workspace, ±∞ or NaN where they do not exist.</summary>
    /// <param name="sums">The resample's row of the sums of <see cref="Columns"/>.</param>
    /// <param name="multiplicities">Its multiplicities, one a cluster.</param>
    /// <param name="workspace">The thread's own.</param>
    /// <param name="tolerance">The error aimed at in a slope, on the log scale over the slope's whole span.</param>
    public void Refit(ReadOnlySpan<double> sums, ReadOnlySpan<int> multiplicities, Workspace workspace, double tolerance)
    {
        workspace.Next();
        UInt128 minus = 0, plus = 0;
        for (int i = 0; i < _clusters.Length; i++)
        {
            if (multiplicities[_clusters[i]] == 0)
                continue;
            minus |= _againstMinus[i];
            plus |= _againstPlus[i];
        }
        UInt128 finite = minus & plus;
        ref double row = ref MemoryMarshal.GetReference(sums);
        nuint next = (nuint)_padded;
        double[] slopes = workspace.Slopes;
        for (int i = 0; i < Count; i += PanelCounts.Lanes)
        {
            nuint at = (nuint)i;
            var steps = TrendExpansion.Root(
                Vector256.LoadUnsafe(ref row, at),
                Vector256.LoadUnsafe(ref row, at + next),
                Vector256.LoadUnsafe(ref row, at + 2 * next),
                Vector256.LoadUnsafe(ref row, at + 3 * next));
            for (int j = i; j < Math.Min(Count, i + PanelCounts.Lanes); j++)
            {
                var expansion = _expansions[j];
                double step = steps[j - i];
                slopes[j] = (finite >> j & 1) != 0 && expansion.Reaches(step, tolerance)
                    ? expansion.Slope + step
                    : workspace.Trend.Fit(workspace.Filled(_slopes[j].Panel, multiplicities), _slopes[j].Periods, expansion.Slope + step, tolerance).Value;
            }
        }
    }
}
