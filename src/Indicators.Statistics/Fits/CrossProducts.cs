using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Fits;

/// <summary>
/// Sums of outer products of rows, QᵀQ, into the upper triangle of a padded row-major array, in tiles of 4 × 8 registers and
/// a fixed order: the Hessian's part of every profiled likelihood.
/// </summary>
internal static class CrossProducts
{
    /// <summary>How many rows to collect before adding: they stay in the first-level cache.</summary>
    public const int Block = 32;

    /// <summary>The stride for so many columns: whole vectors, and one more that a tile may touch.</summary>
    public static int StrideOf(int columns) => (columns + 3) / 4 * 4 + 4;

    /// <summary>Adds the outer products of the block's rows.</summary>
    /// <param name="block">Rows, one after the other, padded with zeros to the stride.</param>
    /// <param name="rows">How many.</param>
    /// <param name="stride">Of block and sum alike, see <see cref="StrideOf"/>.</param>
    /// <param name="columns">How many columns count.</param>
    /// <param name="sum">columns × stride and a little more; what lies left of the diagonal is scratch.</param>
    public static void Add(double[] block, int rows, int stride, int columns, double[] sum)
    {
        ref double q = ref MemoryMarshal.GetArrayDataReference(block);
        ref double cross = ref MemoryMarshal.GetArrayDataReference(sum);
        for (int i = 0; i < columns; i += 4)
        {
            for (int j = i; j < columns; j += 8)
            {
                nuint a0 = (nuint)(i * stride + j), a1 = a0 + (nuint)stride, a2 = a1 + (nuint)stride, a3 = a2 + (nuint)stride;
                var x0 = Vector256.LoadUnsafe(ref cross, a0);
                var y0 = Vector256.LoadUnsafe(ref cross, a0 + 4);
                var x1 = Vector256.LoadUnsafe(ref cross, a1);
                var y1 = Vector256.LoadUnsafe(ref cross, a1 + 4);
                var x2 = Vector256.LoadUnsafe(ref cross, a2);
                var y2 = Vector256.LoadUnsafe(ref cross, a2 + 4);
                var x3 = Vector256.LoadUnsafe(ref cross, a3);
                var y3 = Vector256.LoadUnsafe(ref cross, a3 + 4);
                nuint row = 0;
                for (int s = 0; s < rows; s++, row += (nuint)stride)
                {
                    var u = Vector256.LoadUnsafe(ref q, row + (nuint)j);
                    var w = Vector256.LoadUnsafe(ref q, row + (nuint)j + 4);
                    var b = Vector256.Create(Unsafe.Add(ref q, row + (nuint)i));
                    x0 = Vector256.FusedMultiplyAdd(b, u, x0);
                    y0 = Vector256.FusedMultiplyAdd(b, w, y0);
                    b = Vector256.Create(Unsafe.Add(ref q, row + (nuint)i + 1));
                    x1 = Vector256.FusedMultiplyAdd(b, u, x1);
                    y1 = Vector256.FusedMultiplyAdd(b, w, y1);
                    b = Vector256.Create(Unsafe.Add(ref q, row + (nuint)i + 2));
                    x2 = Vector256.FusedMultiplyAdd(b, u, x2);
                    y2 = Vector256.FusedMultiplyAdd(b, w, y2);
                    b = Vector256.Create(Unsafe.Add(ref q, row + (nuint)i + 3));
                    x3 = Vector256.FusedMultiplyAdd(b, u, x3);
                    y3 = Vector256.FusedMultiplyAdd(b, w, y3);
                }
                x0.StoreUnsafe(ref cross, a0);
                y0.StoreUnsafe(ref cross, a0 + 4);
                x1.StoreUnsafe(ref cross, a1);
                y1.StoreUnsafe(ref cross, a1 + 4);
                x2.StoreUnsafe(ref cross, a2);
                y2.StoreUnsafe(ref cross, a2 + 4);
                x3.StoreUnsafe(ref cross, a3);
                y3.StoreUnsafe(ref cross, a3 + 4);
            }
        }
    }
}
