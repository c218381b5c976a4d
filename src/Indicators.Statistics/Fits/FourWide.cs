using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Fits;

/// <summary>
/// The exponential and a logarithm of four numbers at once, the same to the last bit wherever and whenever they run.
/// </summary>
/// <remarks>
/// The runtime's own <c>Vector256.Exp</c> and <c>Vector256.Log</c> may or may not fuse a multiplication with an addition, as
/// suits the machine, and do differ between the code shipped with the runtime and the same method compiled again once it is
/// hot: the last digits of a result would hang on when a thread came by. Here every operation is one that IEEE 754 fixes.
/// </remarks>
public static class FourWide
{
    // 1.5 × 2^52: added to a number of moderate size, it rounds that number to a whole one, which then stands in the low bits.
    private const double Rounder = 6755399441055744.0;

    // ln 2 in two parts, the first with 32 trailing zero bits, so that a whole number times it is exact.
    private const double Ln2High = 0.6931471803691238, Ln2Low = 1.9082149292705877e-10;

    /// <summary>e to each of four powers, within 1 unit in the last place; 0 below −745.2, infinite above 709.8, NaN of NaN.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Exp(Vector256<double> power)
    {
        // Powers beyond ±800 overflow or vanish just as well at ±800, where the exponents below stay in their range.
        var x = Vector256.Max(Vector256.Min(power, Vector256.Create(800.0)), Vector256.Create(-800.0));
        var rounder = Vector256.Create(Rounder);
        var k = x * Vector256.Create(1.4426950408889634) + rounder - rounder;
        var r = Vector256.FusedMultiplyAdd(-k, Vector256.Create(Ln2High), x);
        r = Vector256.FusedMultiplyAdd(-k, Vector256.Create(Ln2Low), r);
        // Taylor's sum to r^13 over |r| ≤ ln 2 / 2: what is left out is below 5e-18. Pairs first, so that four chains run at once.
        var r2 = r * r;
        var r4 = r2 * r2;
        var r8 = r4 * r4;
        var c23 = Pair(r, 1 / 2.0, 1 / 6.0);
        var c45 = Pair(r, 1 / 24.0, 1 / 120.0);
        var c67 = Pair(r, 1 / 720.0, 1 / 5040.0);
        var c89 = Pair(r, 1 / 40320.0, 1 / 362880.0);
        var cAB = Pair(r, 1 / 3628800.0, 1 / 39916800.0);
        var cCD = Pair(r, 1 / 479001600.0, 1 / 6227020800.0);
        var c4To7 = Vector256.FusedMultiplyAdd(c67, r2, c45);
        var c8ToD = Vector256.FusedMultiplyAdd(cCD, r4, Vector256.FusedMultiplyAdd(cAB, r2, c89));
        var above = Vector256.FusedMultiplyAdd(c8ToD, r8, c4To7 * r4);
        // 1 + r comes last, in its two parts, or its rounding would cost a digit.
        var e = Vector256<double>.One + (r + Vector256.FusedMultiplyAdd(c23, r2, above));
        // 2^k in two factors, for k may be beyond the largest or smallest exponent while the product is not.
        var half = k * Vector256.Create(0.5) + rounder - rounder;
        return e * TwoTo(half) * TwoTo(k - half);
    }

    /// <summary>log(1 + x) of four numbers from 0 to 1, within a few units in the last place: 2 artanh(x / (2 + x)).</summary>
    public static Vector256<double> LogOnePlus(Vector256<double> x)
    {
        var s = x / (Vector256.Create(2.0) + x);
        var square = s * s;
        var sum = Vector256.Create(1 / 35.0);
        for (int n = 33; n >= 3; n -= 2)
            sum = Vector256.FusedMultiplyAdd(sum, square, Vector256.Create(1.0 / n));
        var twice = s + s;
        return Vector256.FusedMultiplyAdd(twice * square, sum, twice);
    }

    private static Vector256<double> Pair(Vector256<double> r, double even, double odd) =>
        Vector256.FusedMultiplyAdd(r, Vector256.Create(odd), Vector256.Create(even));

    private static Vector256<double> TwoTo(Vector256<double> whole) =>
        Vector256.ShiftLeft((whole + Vector256.Create(Rounder)).AsInt64() - Vector256.Create(Rounder).AsInt64() + Vector256.Create(1023L), 52).AsDouble();
}
