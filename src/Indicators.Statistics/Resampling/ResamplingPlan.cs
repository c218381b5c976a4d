namespace Indicators.Statistics.Resampling;

/// <summary>
/// How often each cluster is drawn in each bootstrap resample. A resample depends only on the seed, the stream and the
/// resample's number, so that everything computed in one area shares the same draws, on any thread and in any order.
/// </summary>
public sealed class ResamplingPlan
{
    private readonly uint _key0, _key1, _stream0, _stream1;

    /// <summary>A plan of draws with replacement of as many clusters as there are.</summary>
    /// <param name="seed">The run's seed: the generator's key.</param>
    /// <param name="stream">Tells plans under one seed apart: the upper half of the generator's counter.</param>
    /// <param name="clusters">How many clusters there are, at least 1.</param>
    public ResamplingPlan(ulong seed, ulong stream, int clusters)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(clusters, 1);
        (_key0, _key1) = ((uint)seed, (uint)(seed >> 32));
        (_stream0, _stream1) = ((uint)stream, (uint)(stream >> 32));
        Clusters = clusters;
    }

    /// <summary>How many clusters are drawn from, and how many draws a resample has.</summary>
    public int Clusters { get; }

    /// <summary>Fills in how often each cluster is drawn in one resample; the sum is <see cref="Clusters"/>.</summary>
    /// <param name="resample">The resample's number, from 0.</param>
    /// <param name="multiplicities">One place a cluster; overwritten.</param>
    public void Draw(int resample, Span<int> multiplicities)
    {
        if (multiplicities.Length != Clusters)
            throw new ArgumentException("One place a cluster is needed.", nameof(multiplicities));
        multiplicities.Clear();
        uint n = (uint)Clusters;
        // Words below this threshold would favour some clusters (Lemire 2019, "Fast random integer generation in an interval").
        uint threshold = unchecked(0u - n) % n;
        Span<uint> words = stackalloc uint[4];
        uint block = 0;
        int have = 0;
        for (int drawn = 0; drawn < Clusters;)
        {
            if (have == 0)
            {
                (words[3], words[2], words[1], words[0]) = Philox.Block(block++, (uint)resample, _stream0, _stream1, _key0, _key1);
                have = 4;
            }
            ulong product = (ulong)words[--have] * n;
            if ((uint)product < threshold)
                continue;
            multiplicities[(int)(product >> 32)]++;
            drawn++;
        }
    }
}
