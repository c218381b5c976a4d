using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Resampling;

namespace Indicators.Statistics.Expansions;

/// <summary>
/// Refits of resamples read off the likelihood's expansion at the sample's own estimate, without looking at the data again.
/// </summary>
/// <remarks>
/// Each cluster brings its score g_c, its information H_c and its total count Y_c at the estimate θ̂. A resample with multiplicities m has
/// score Σ m_c g_c less the pull of a fixed quadratic penalty, information A = Σ m_c H_c plus the penalty, and its estimate solves
/// 0 = g − A d − ½ T[d, d] to second order, d = θ* − θ̂, T the third derivative. First d = A⁻¹g, one Newton step (Davidson and MacKinnon
/// 1999; Andrews 2002); then the quadratic term is put in at the latest d, <see cref="Corrections"/> times: in our study
/// (docs/expansion.md) once is not enough and three times does harm. T is the resample's own where clusters are few; where they are many it
/// is the sample's, times the resample's share of the sample's count. How long a step was is told, so that the caller can fit
/// long ones in full. Four resamples a vector, in a fixed order.
/// </remarks>
public sealed class ClusterExpansion
{
    /// <summary>How often the quadratic term is put in.</summary>
    private const int Corrections = 2;

    /// <summary>A pivot below this part of the largest diagonal: the resample does not tell some direction.</summary>
    private const double SmallestPivot = 1e-9;

    private readonly int _parameters, _pairs;
    private readonly double _total;
    private readonly double[]? _third;
    private readonly double[] _penalty, _pull;
    private readonly ClusterSums _columns;

    internal ClusterExpansion(
        ReadOnlySpan<int> clusters, ReadOnlySpan<double> rows, double[]? third, double[] penalty, double[] pull, double total)
    {
        (_parameters, _pairs) = (pull.Length, pull.Length * (pull.Length + 1) / 2);
        (_third, _penalty, _pull, _total) = (third, penalty, pull, total);
        _columns = new ClusterSums(clusters, rows, 1 + _parameters + _pairs + (third is null ? _pairs * (_parameters + 2) / 3 : 0));
    }

    /// <summary>How many parameters there are.</summary>
    public int Parameters => _parameters;

    /// <summary>What one thread needs.</summary>
    public sealed class Workspace
    {
        /// <summary>Room for one expansion.</summary>
        public Workspace(ClusterExpansion expansion)
        {
            int n = expansion._parameters;
            Sums = new double[expansion._columns.SumsLength];
            Matrix = new double[4 * expansion._pairs];
            (Score, Step, Bend) = (new double[4 * n], new double[4 * n], new double[4 * n]);
        }

        internal double[] Sums { get; }

        internal double[] Matrix { get; }

        internal double[] Score { get; }

        internal double[] Step { get; }

        internal double[] Bend { get; }
    }

    /// <summary>The steps of a block of resamples.</summary>
    /// <param name="multiplicities">A block of the plan.</param>
    /// <param name="work">This thread's workspace.</param>
    /// <param name="steps">d at [parameter × <see cref="ClusterSums.Block"/> + resample]; overwritten.</param>
    /// <param name="lengths">
    /// How long the step was, the Newton step or the corrected one if that is longer: the root mean square change of the predictor, over the
    /// resample's calls and within units, log scale; +∞ where the information is singular and the step means nothing. Overwritten.
    /// </param>
    public void Refit(ReadOnlySpan<double> multiplicities, Workspace work, double[] steps, double[] lengths)
    {
        _columns.Sum(multiplicities, work.Sums);
        for (int b = 0; b < ClusterSums.Block; b += 4)
            Four(b, work, steps, lengths);
    }

    private void Four(int b, Workspace work, double[] steps, double[] lengths)
    {
        int n = _parameters;
        ref double sums = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(work.Sums), b);
        ref double matrix = ref MemoryMarshal.GetArrayDataReference(work.Matrix);
        ref double score = ref MemoryMarshal.GetArrayDataReference(work.Score);
        ref double d = ref MemoryMarshal.GetArrayDataReference(work.Step);
        var count = Vector256.LoadUnsafe(ref sums);
        for (int i = 0; i < n; i++)
        {
            var g = Vector256.LoadUnsafe(ref sums, (nuint)((1 + i) * ClusterSums.Block)) - Vector256.Create(_pull[i]);
            g.StoreUnsafe(ref score, (nuint)(4 * i));
            g.StoreUnsafe(ref d, (nuint)(4 * i));
        }
        for (int k = 0; k < _pairs; k++)
            (Vector256.LoadUnsafe(ref sums, (nuint)((1 + n + k) * ClusterSums.Block)) + Vector256.Create(_penalty[k]))
                .StoreUnsafe(ref matrix, (nuint)(4 * k));
        var regular = Factor(ref matrix, n);
        Solve(ref matrix, n, ref d);
        Vector256<double> square = default;
        for (int i = 0; i < n; i++)
            square = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref d, (nuint)(4 * i)), Vector256.LoadUnsafe(ref score, (nuint)(4 * i)), square);
        regular &= Vector256.GreaterThan(count, Vector256<double>.Zero);
        var share = count / Vector256.Create(_total);
        for (int round = 0; round < Corrections; round++)
        {
            AddBend(ref Unsafe.Add(ref sums, (1 + n + _pairs) * ClusterSums.Block), share, work);
            for (int i = 0; i < n; i++)
                Vector256.FusedMultiplyAdd(
                    Vector256.Create(-0.5), Vector256.LoadUnsafe(ref work.Bend[0], (nuint)(4 * i)), Vector256.LoadUnsafe(ref score, (nuint)(4 * i)))
                    .StoreUnsafe(ref d, (nuint)(4 * i));
            Solve(ref matrix, n, ref d);
        }
        square = Vector256.Max(square, Square(ref matrix, n, ref d));
        // Not a number is not less than anything either.
        regular &= Vector256.LessThan(square, Vector256.Create(double.PositiveInfinity));
        Vector256.ConditionalSelect(regular, Vector256.Sqrt(square / count), Vector256.Create(double.PositiveInfinity)).CopyTo(lengths, b);
        for (int i = 0; i < n; i++)
            Vector256.LoadUnsafe(ref d, (nuint)(4 * i)).CopyTo(steps, i * ClusterSums.Block + b);
    }

    /// <summary>T[d, d] at the latest steps: T's own sums, or the sample's T times the resample's share.</summary>
    private void AddBend(ref double own, Vector256<double> share, Workspace work)
    {
        int n = _parameters, k = 0;
        ref double d = ref MemoryMarshal.GetArrayDataReference(work.Step);
        ref double bend = ref MemoryMarshal.GetArrayDataReference(work.Bend);
        Array.Clear(work.Bend);
        for (int i = 0; i < n; i++)
        {
            var di = Vector256.LoadUnsafe(ref d, (nuint)(4 * i));
            Vector256<double> at = default;
            for (int j = i; j < n; j++)
            {
                // Of a set of three different parameters each pair pushes the third one twice.
                var dj = Vector256.LoadUnsafe(ref d, (nuint)(4 * j));
                var pair = i == j ? di * di : 2 * di * dj;
                var first = Third(ref own, share, k++);
                Vector256<double> along = default;
                for (int l = j + 1; l < n; l++)
                {
                    var third = Third(ref own, share, k++);
                    along = Vector256.FusedMultiplyAdd(third, Vector256.LoadUnsafe(ref d, (nuint)(4 * l)), along);
                    Vector256.FusedMultiplyAdd(third, pair, Vector256.LoadUnsafe(ref bend, (nuint)(4 * l))).StoreUnsafe(ref bend, (nuint)(4 * l));
                }
                if (i == j)
                {
                    at += first * pair + 2 * di * along;
                    continue;
                }
                at += first * dj * dj + 2 * dj * along;
                (Vector256.LoadUnsafe(ref bend, (nuint)(4 * j)) + first * pair + 2 * di * along).StoreUnsafe(ref bend, (nuint)(4 * j));
            }
            (Vector256.LoadUnsafe(ref bend, (nuint)(4 * i)) + at).StoreUnsafe(ref bend, (nuint)(4 * i));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector256<double> Third(ref double own, Vector256<double> share, int place) =>
        _third is null ? Vector256.LoadUnsafe(ref own, (nuint)(place * ClusterSums.Block)) : share * Vector256.Create(_third[place]);

    /// <summary>LDLᵀ of four packed upper triangles at once; row i holds Lᵀ and 1/D. Tells which are regular.</summary>
    private static Vector256<double> Factor(ref double a, int n)
    {
        Vector256<double> largest = default;
        for (int i = 0, at = 0; i < n; at += n - i, i++)
            largest = Vector256.Max(largest, Vector256.LoadUnsafe(ref a, (nuint)(4 * at)));
        var least = largest * Vector256.Create(SmallestPivot);
        var regular = Vector256.GreaterThan(largest, Vector256<double>.Zero);
        for (int i = 0, row = 0; i < n; row += n - i, i++)
        {
            var pivot = Vector256.LoadUnsafe(ref a, (nuint)(4 * row));
            regular &= Vector256.GreaterThan(pivot, least);
            var inverse = Vector256<double>.One / pivot;
            inverse.StoreUnsafe(ref a, (nuint)(4 * row));
            int below = row + n - i;
            for (int r = i + 1; r < n; below += n - r, r++)
            {
                var minus = -(Vector256.LoadUnsafe(ref a, (nuint)(4 * (row + r - i))) * inverse);
                for (int c = r; c < n; c++)
                {
                    nuint target = (nuint)(4 * (below + c - r));
                    Vector256.FusedMultiplyAdd(minus, Vector256.LoadUnsafe(ref a, (nuint)(4 * (row + c - i))), Vector256.LoadUnsafe(ref a, target))
                        .StoreUnsafe(ref a, target);
                }
            }
            for (int c = i + 1; c < n; c++)
            {
                nuint at = (nuint)(4 * (row + c - i));
                (Vector256.LoadUnsafe(ref a, at) * inverse).StoreUnsafe(ref a, at);
            }
        }
        return regular;
    }

    /// <summary>xᵀAx from the factor.</summary>
    private static Vector256<double> Square(ref double factor, int n, ref double x)
    {
        Vector256<double> sum = default;
        for (int i = 0, row = 0; i < n; row += n - i, i++)
        {
            var value = Vector256.LoadUnsafe(ref x, (nuint)(4 * i));
            for (int c = i + 1; c < n; c++)
                value = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref factor, (nuint)(4 * (row + c - i))), Vector256.LoadUnsafe(ref x, (nuint)(4 * c)), value);
            sum += value * value / Vector256.LoadUnsafe(ref factor, (nuint)(4 * row));
        }
        return sum;
    }

    private static void Solve(ref double factor, int n, ref double x)
    {
        int row = 0;
        for (int i = 0; i < n; row += n - i, i++)
        {
            var minus = -Vector256.LoadUnsafe(ref x, (nuint)(4 * i));
            for (int c = i + 1; c < n; c++)
                Vector256.FusedMultiplyAdd(minus, Vector256.LoadUnsafe(ref factor, (nuint)(4 * (row + c - i))), Vector256.LoadUnsafe(ref x, (nuint)(4 * c)))
                    .StoreUnsafe(ref x, (nuint)(4 * c));
        }
        for (int i = n - 1; i >= 0; i--)
        {
            row -= n - i;
            var value = Vector256.LoadUnsafe(ref x, (nuint)(4 * i)) * Vector256.LoadUnsafe(ref factor, (nuint)(4 * row));
            for (int c = i + 1; c < n; c++)
                value = Vector256.FusedMultiplyAdd(-Vector256.LoadUnsafe(ref factor, (nuint)(4 * (row + c - i))), Vector256.LoadUnsafe(ref x, (nuint)(4 * c)), value);
            value.StoreUnsafe(ref x, (nuint)(4 * i));
        }
    }
}
