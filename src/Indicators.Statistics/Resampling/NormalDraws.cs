namespace Indicators.Statistics.Resampling;

/// <summary>
/// Independent standard normal draws, each set depending only on the seed, the stream and the resample's number.
/// </summary>
/// <remarks>Box and Muller 1958 on words of <see cref="Philox"/>; a counter range of its own keeps them apart from the resampling plan's.</remarks>
public sealed class NormalDraws
{
    private const uint Apart = 0x8000_0000;

    private readonly uint _key0, _key1, _stream0, _stream1;

    /// <summary>Draws keyed like a <see cref="ResamplingPlan"/>.</summary>
    /// <param name="seed">The run's seed.</param>
    /// <param name="stream">Tells streams under one seed apart.</param>
    public NormalDraws(ulong seed, ulong stream)
    {
        (_key0, _key1) = ((uint)seed, (uint)(seed >> 32));
        (_stream0, _stream1) = ((uint)stream, (uint)(stream >> 32));
    }

    /// <summary>Fills in one resample's draws.</summary>
    /// <param name="resample">The resample's number, from 0.</param>
    /// <param name="draws">Overwritten.</param>
    public void Draw(int resample, Span<double> draws)
    {
        uint block = Apart;
        for (int i = 0; i < draws.Length; i += 2)
        {
            var (w0, w1, w2, w3) = Philox.Block(block++, (uint)resample, _stream0, _stream1, _key0, _key1);
            double radius = Math.Sqrt(-2 * Math.Log(Unit(w0, w1)));
            double angle = 2 * Math.PI * Unit(w2, w3);
            draws[i] = radius * Math.Cos(angle);
            if (i + 1 < draws.Length)
                draws[i + 1] = radius * Math.Sin(angle);
        }
    }

    /// <summary>53 bits made a number in (0, 1].</summary>
    private static double Unit(uint high, uint low) => (((ulong)high << 21 ^ low >> 11) + 1) * (1.0 / (1UL << 53));
}
