using System.Runtime.InteropServices;

namespace Indicators.Statistics.Occupancy;

/// <summary>Compares sequences of numbers by content; looked up by a span, a sequence already known costs no allocation.</summary>
internal sealed class SameContent : IEqualityComparer<long[]>, IAlternateEqualityComparer<ReadOnlySpan<long>, long[]>
{
    public static readonly SameContent Instance = new();

    public bool Equals(long[]? x, long[]? y) => x.AsSpan().SequenceEqual(y);

    public int GetHashCode(long[] obj) => GetHashCode(obj.AsSpan());

    public bool Equals(ReadOnlySpan<long> alternate, long[] other) => alternate.SequenceEqual(other);

    public int GetHashCode(ReadOnlySpan<long> alternate)
    {
        var hash = default(HashCode);
        hash.AddBytes(MemoryMarshal.AsBytes(alternate));
        return hash.ToHashCode();
    }

    public long[] Create(ReadOnlySpan<long> alternate) => alternate.ToArray();
}
