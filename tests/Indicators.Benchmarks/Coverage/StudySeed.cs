using System.Text;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Where the study's random numbers come from: one seed, a cell's name, a world's number.</summary>
internal static class StudySeed
{
    /// <summary>The seed of every table that is committed.</summary>
    public const uint Seed = 20261125;

    /// <summary>The same number for the same name on every machine (the hash FNV-1a).</summary>
    public static uint Key(string cell)
    {
        uint hash = 2166136261;
        foreach (byte value in Encoding.UTF8.GetBytes(cell))
            hash = (hash ^ value) * 16777619;
        return hash;
    }

    /// <summary>The numbers of one world.</summary>
    public static UniformStream World(uint key, uint world) => new(Seed, key, world);
}
