using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Fits;

/// <summary>
/// LDLᵀ of a small positive definite matrix held in the upper triangle of a padded row-major array, in place.
/// </summary>
/// <remarks>
/// Row i of the factor holds Lᵀ to the right of the diagonal and 1/D on it. Written here because it runs millions of times
/// on 20 × 20 matrices without allocating; the reference tests hold it against R.
/// </remarks>
internal static class SymmetricSolve
{
    /// <summary>Pivots smaller than this part of the largest diagonal mean that the matrix is singular to working precision.</summary>
    private const double SmallestPivot = 1e-13;

    /// <summary>Factors; false when a pivot is not safely positive.</summary>
    public static bool Factor(double[] a, int stride, int n)
    {
        ref double p = ref MemoryMarshal.GetArrayDataReference(a);
        double largest = 0;
        for (int i = 0; i < n; i++)
            largest = Math.Max(largest, a[i * stride + i]);
        for (int i = 0; i < n; i++)
        {
            double pivot = a[i * stride + i];
            if (!(pivot > SmallestPivot * largest))
                return false;
            double inverse = 1 / pivot;
            for (int r = i + 1; r < n; r++)
            {
                double factor = a[i * stride + r] * inverse;
                if (factor == 0)
                    continue;
                var minus = Vector256.Create(-factor);
                // Whole vectors from a multiple of four on: what lies left of the diagonal in row r is never read.
                for (int c = r & ~3; c < n; c += 4)
                {
                    nuint target = (nuint)(r * stride + c);
                    Vector256.FusedMultiplyAdd(minus, Vector256.LoadUnsafe(ref p, (nuint)(i * stride + c)), Vector256.LoadUnsafe(ref p, target))
                        .StoreUnsafe(ref p, target);
                }
            }
            for (int c = i + 1; c < n; c++)
                a[i * stride + c] *= inverse;
            a[i * stride + i] = inverse;
        }
        return true;
    }

    /// <summary>Solves for one right side, in place. The right side is padded with zeros to the stride.</summary>
    public static void Solve(double[] factor, int stride, int n, double[] x)
    {
        ref double f = ref MemoryMarshal.GetArrayDataReference(factor);
        ref double v = ref MemoryMarshal.GetArrayDataReference(x);
        for (int i = 0; i < n; i++)
        {
            double value = x[i];
            if (value == 0)
                continue;
            // Up to the next multiple of four one by one, then whole vectors.
            int c = i + 1;
            for (; (c & 3) != 0 && c < n; c++)
                x[c] -= factor[i * stride + c] * value;
            var minus = Vector256.Create(-value);
            for (; c < n; c += 4)
                Vector256.FusedMultiplyAdd(minus, Vector256.LoadUnsafe(ref f, (nuint)(i * stride + c)), Vector256.LoadUnsafe(ref v, (nuint)c))
                    .StoreUnsafe(ref v, (nuint)c);
        }
        for (int i = n - 1; i >= 0; i--)
        {
            double value = x[i] * factor[i * stride + i];
            int c = i + 1;
            for (; (c & 3) != 0 && c < n; c++)
                value -= factor[i * stride + c] * x[c];
            Vector256<double> sum = default;
            for (; c < n; c += 4)
                sum = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref f, (nuint)(i * stride + c)), Vector256.LoadUnsafe(ref v, (nuint)c), sum);
            x[i] = value - Vector256.Sum(sum);
        }
    }
}
