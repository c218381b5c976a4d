namespace Indicators.Benchmarks.Coverage;

/// <summary>The wild cluster bootstrap's weights: Webb's six values up to ten clusters, where two signs give too few patterns; else ±1.</summary>
internal static class WildWeights
{
    private const int WebbUpTo = 10;
    private static readonly double[] Webb = [-Math.Sqrt(1.5), -1, -Math.Sqrt(0.5), Math.Sqrt(0.5), 1, Math.Sqrt(1.5)];

    /// <summary>One weight a cluster, draw after draw.</summary>
    public static double[] Of(int clusters, int draws, uint key, uint world)
    {
        var random = StudySeed.World(key ^ 0x5EED, world);
        var weights = new double[clusters * draws];
        for (int i = 0; i < weights.Length; i++)
            weights[i] = clusters <= WebbUpTo ? Webb[(int)(6 * random.Next())] : random.Next() < 0.5 ? -1 : 1;
        return weights;
    }
}
