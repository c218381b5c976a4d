using System.Collections.Concurrent;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Fits;

/// <summary>The multiplicities of a block of resamples of one area, shared by all its species. One object a thread.</summary>
internal sealed class ResampleBlock(ResamplingPlan plan)
{
    private readonly int[] _multiplicities = new int[ClusterColumns.Block * plan.Clusters];
    private readonly double[] _weights = new double[ClusterColumns.Block * plan.Clusters];

    /// <summary>The first resample's number.</summary>
    public int First { get; private set; }

    /// <summary>How many resamples it holds, <see cref="ClusterColumns.Block"/> at most.</summary>
    public int Count { get; private set; }

    /// <summary>All multiplicities as <see cref="ClusterColumns.Sum"/> wants them; 0 for resamples that the block does not hold.</summary>
    public ReadOnlySpan<double> Weights => _weights;

    /// <summary>One resample's multiplicities, one a cluster.</summary>
    public ReadOnlySpan<int> Of(int i) => _multiplicities.AsSpan(i * plan.Clusters, plan.Clusters);

    /// <summary>Draws a block.</summary>
    /// <param name="block">Its number, from 0.</param>
    /// <param name="resamples">How many resamples there are in all.</param>
    public void Draw(int block, int resamples)
    {
        First = block * ClusterColumns.Block;
        Count = Math.Min(ClusterColumns.Block, resamples - First);
        if (Count < ClusterColumns.Block)
            Array.Clear(_weights);
        for (int i = 0; i < Count; i++)
        {
            var one = _multiplicities.AsSpan(i * plan.Clusters, plan.Clusters);
            plan.Draw(First + i, one);
            for (int c = 0; c < one.Length; c++)
                _weights[c * ClusterColumns.Block + i] = one[c];
        }
    }

    /// <summary>Draws every block of a plan once, each worked on with a workspace that no other thread uses meanwhile.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="resamples">How many resamples there are in all.</param>
    /// <param name="parallel">How many threads may work.</param>
    /// <param name="make">Makes a workspace.</param>
    /// <param name="work">What to do with a block.</param>
    public static void Each<T>(ResamplingPlan plan, int resamples, ParallelOptions parallel, Func<T> make, Action<ResampleBlock, T> work)
    {
        var spare = new ConcurrentBag<(ResampleBlock Block, T Workspace)>();
        Parallel.For(0, (resamples + ClusterColumns.Block - 1) / ClusterColumns.Block, parallel, number =>
        {
            if (!spare.TryTake(out var mine))
                mine = (new ResampleBlock(plan), make());
            mine.Block.Draw(number, resamples);
            work(mine.Block, mine.Workspace);
            spare.Add(mine);
        });
    }
}
