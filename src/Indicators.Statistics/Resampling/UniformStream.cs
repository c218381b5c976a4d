namespace Indicators.Statistics.Resampling;

/// <summary>
/// Random numbers one after the other, for simulation: a stream depends only on the seed, its own name and its number, so
/// that simulated worlds can be drawn in any order, on any thread, and drawn again.
/// </summary>
public sealed class UniformStream
{
    private readonly uint _key0, _key1, _stream0, _stream1, _number;
    private readonly uint[] _words = new uint[4];
    private uint _block;
    private int _have;

    /// <summary>A stream from its beginning.</summary>
    /// <param name="seed">The key of the generator.</param>
    /// <param name="stream">Tells streams under one seed apart; must not be one of a <see cref="ResamplingPlan"/>'s under the same seed.</param>
    /// <param name="number">The world's number.</param>
    public UniformStream(ulong seed, ulong stream, uint number)
    {
        (_key0, _key1) = ((uint)seed, (uint)(seed >> 32));
        (_stream0, _stream1) = ((uint)stream, (uint)(stream >> 32));
        _number = number;
    }

    /// <summary>The next number in [0, 1), a multiple of 2⁻³².</summary>
    public double Next()
    {
        if (_have == 0)
        {
            (_words[3], _words[2], _words[1], _words[0]) = Philox.Block(_block++, _number, _stream0, _stream1, _key0, _key1);
            _have = 4;
        }
        return _words[--_have] * (1.0 / (1L << 32));
    }

    /// <summary>The next standard normal number (Box and Muller 1958).</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());
}
