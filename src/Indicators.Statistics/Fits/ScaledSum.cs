using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Fits;

/// <summary>A row times a number, added to another row.</summary>
internal static class ScaledSum
{
    /// <summary>sums += factor × values, over the length of the sums.</summary>
    public static void Add(ReadOnlySpan<double> values, double factor, Span<double> sums)
    {
        values = values[..sums.Length];
        ref double from = ref MemoryMarshal.GetReference(values), to = ref MemoryMarshal.GetReference(sums);
        var times = Vector256.Create(factor);
        int b = 0;
        for (; b + 4 <= sums.Length; b += 4)
            Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref from, (nuint)b), Vector256.LoadUnsafe(ref to, (nuint)b)).StoreUnsafe(ref to, (nuint)b);
        for (; b < sums.Length; b++)
            sums[b] = Math.FusedMultiplyAdd(factor, values[b], sums[b]);
    }
}
