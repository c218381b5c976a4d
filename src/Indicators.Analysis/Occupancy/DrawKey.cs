using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Occupancy;

/// <summary>
/// What keys an area's draws. The area's stream leaves its upper 16 bits free; occupancy takes streams of its own there, so
/// that no draw is shared with the resampling plan or the season shocks.
/// </summary>
/// <param name="Seed">The run's seed.</param>
/// <param name="Stream">The stream.</param>
internal readonly record struct DrawKey(ulong Seed, ulong Stream)
{
    private const int Free = 48;
    private const ulong Parameters = 0x1000, Presences = 0x2000;

    /// <summary>The key of one species' parameter draws; species up to 4,095.</summary>
    public DrawKey OfParameters(int species) => this with { Stream = Stream | (Parameters + (ulong)species) << Free };

    /// <summary>Whether a species with a chance of presence is there in one resample of the score: the same draw in every season.</summary>
    public bool IsPresent(int species, int resample, double chance)
    {
        ulong stream = Stream | Presences << Free;
        var (word, _, _, _) = Philox.Block((uint)species, (uint)resample, (uint)stream, (uint)(stream >> 32), (uint)Seed, (uint)(Seed >> 32));
        return (word + 0.5) / 4294967296.0 < chance;
    }
}
