using System.Runtime.CompilerServices;

namespace Indicators.Statistics.Resampling;

/// <summary>
/// The counter-based generator Philox4x32-10: four 32-bit words from a 128-bit counter and a 64-bit key, without state.
/// </summary>
/// <remarks>
/// Salmon, Moraes, Dror and Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3". Because a draw depends only on its
/// counter and key, any thread can make any draw, in any order, and a run can stop and go on.
/// </remarks>
public static class Philox
{
    private const uint MultiplierA = 0xD2511F53, MultiplierB = 0xCD9E8D57;
    private const uint WeylA = 0x9E3779B9, WeylB = 0xBB67AE85;
    private const int Rounds = 10;

    /// <summary>The four words of one counter under one key.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (uint W0, uint W1, uint W2, uint W3) Block(uint c0, uint c1, uint c2, uint c3, uint k0, uint k1)
    {
        for (int round = 0; round < Rounds; round++)
        {
            ulong a = (ulong)MultiplierA * c0;
            ulong b = (ulong)MultiplierB * c2;
            (c0, c1, c2, c3) = ((uint)(b >> 32) ^ c1 ^ k0, (uint)b, (uint)(a >> 32) ^ c3 ^ k1, (uint)a);
            k0 += WeylA;
            k1 += WeylB;
        }
        return (c0, c1, c2, c3);
    }
}
