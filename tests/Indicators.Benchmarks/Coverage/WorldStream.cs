using System.Text;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Uniform and normal numbers of one simulated world, keyed by the study's cell and the world's number.</summary>
internal sealed class WorldStream(uint cell, uint world)
{
    private const uint Seed = 20261125;
    private readonly uint[] _words = new uint[4];
    private uint _block;
    private int _have;

    /// <summary>The same number for the same text on every machine (FNV-1a).</summary>
    public static uint Key(string text)
    {
        uint hash = 2166136261;
        foreach (byte value in Encoding.UTF8.GetBytes(text))
            hash = (hash ^ value) * 16777619;
        return hash;
    }

    /// <summary>In [0, 1).</summary>
    public double Next()
    {
        if (_have == 0)
        {
            (_words[3], _words[2], _words[1], _words[0]) = Philox.Block(_block++, world, cell, 0, Seed, 0);
            _have = 4;
        }
        return _words[--_have] / 4294967296.0;
    }

    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());

    /// <summary>By counting exponential waits; for means of a few tens at most.</summary>
    public int Poisson(double mean, int enough)
    {
        double sum = 0;
        for (int count = 0; ; count++)
        {
            sum -= Math.Log(1 - Next());
            if (sum > mean || count == enough)
                return count;
        }
    }
}
