using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Expansions;

/// <summary>
/// Adds up, unit by unit, what a <see cref="ClusterExpansion"/> needs of a likelihood in which every unit is multinomial over its places:
/// scores Σ(y − μ)z, information Y Σ p z̃z̃ᵀ and third derivatives −Y Σ p z̃⊗z̃⊗z̃, with z̃ = z − Σ p z.
/// </summary>
internal sealed class ExpansionBuilder
{
    private readonly bool _ownThird;
    private readonly int _parameters, _pairs, _triples, _columns, _stride, _pairStride;
    private readonly double[] _rows, _third, _info, _block, _products, _mean;
    private readonly bool[] _seen;
    private double _total;

    /// <summary>
    /// Up to so many clusters and parameters each resample gets third derivatives of its own: there resamples differ most, steps are longest
    /// and the sums are cheap. With more of either the sample's are near enough.
    /// </summary>
    private const int OwnThirdClusters = 64, OwnThirdParameters = 9;

    public ExpansionBuilder(int parameters, int clusters)
    {
        (_parameters, _pairs) = (parameters, parameters * (parameters + 1) / 2);
        _triples = _pairs * (parameters + 2) / 3;
        _ownThird = clusters <= OwnThirdClusters && parameters <= OwnThirdParameters;
        _columns = 1 + _parameters + _pairs + (_ownThird ? _triples : 0);
        _stride = CrossProducts.StrideOf(parameters);
        // A vector may reach a little over the end.
        _pairStride = (_pairs + 3) / 4 * 4 + 4;
        _rows = new double[clusters * _columns];
        _third = new double[parameters * _pairStride];
        _info = new double[_stride * (_stride + 4)];
        _block = new double[CrossProducts.Block * _stride];
        _products = new double[_pairStride];
        _mean = new double[_stride];
        _seen = new bool[clusters];
    }

    /// <summary>How far apart rows of z are.</summary>
    public int Stride => _stride;

    /// <summary>Σ p z of the unit added last.</summary>
    public ReadOnlySpan<double> Mean => _mean.AsSpan(0, _parameters);

    /// <summary>Adds one unit. Its rows of z are centred in place.</summary>
    /// <param name="cluster">Whose it is.</param>
    /// <param name="rows">z of each place, <see cref="Stride"/> apart, padded with zeros.</param>
    /// <param name="shares">p of each place.</param>
    /// <param name="total">The unit's count times its weight.</param>
    /// <param name="observed">Σ y z times its weight.</param>
    public void Add(int cluster, Span<double> rows, ReadOnlySpan<double> shares, double total, ReadOnlySpan<double> observed)
    {
        _seen[cluster] = true;
        _total += total;
        Centre(rows, shares);
        var row = _rows.AsSpan(cluster * _columns, _columns);
        row[0] += total;
        for (int i = 0; i < _parameters; i++)
            row[1 + i] += observed[i] - total * _mean[i];

        Array.Clear(_info);
        if (_ownThird)
            Array.Clear(_third);
        int filled = 0;
        ref double z = ref MemoryMarshal.GetReference(rows);
        ref double block = ref MemoryMarshal.GetArrayDataReference(_block);
        for (int v = 0; v < shares.Length; v++)
        {
            if (shares[v] == 0)
                continue;
            double expected = total * shares[v];
            AddThird(ref Unsafe.Add(ref z, v * _stride), expected);
            var root = Vector256.Create(Math.Sqrt(expected));
            for (int c = 0; c < _stride; c += 4)
                (root * Vector256.LoadUnsafe(ref z, (nuint)(v * _stride + c))).StoreUnsafe(ref block, (nuint)(filled * _stride + c));
            if (++filled == CrossProducts.Block)
            {
                CrossProducts.Add(_block, filled, _stride, _parameters, _info);
                filled = 0;
            }
        }
        if (filled > 0)
            CrossProducts.Add(_block, filled, _stride, _parameters, _info);
        for (int i = 0, k = 1 + _parameters; i < _parameters; i++)
            for (int j = i; j < _parameters; j++, k++)
                row[k] += _info[i * _stride + j];
        if (_ownThird)
            AddTriples(row[(1 + _parameters + _pairs)..]);
    }

    /// <summary>The information Σ_c H_c, full and symmetric, by row.</summary>
    public double[,] Information()
    {
        var sum = new double[_parameters, _parameters];
        for (int c = 0; c < _seen.Length; c++)
            for (int i = 0, k = c * _columns + 1 + _parameters; i < _parameters; i++)
                for (int j = i; j < _parameters; j++, k++)
                    sum[i, j] = sum[j, i] = sum[i, j] + _rows[k];
        return sum;
    }

    /// <summary>The finished expansion.</summary>
    /// <param name="penalty">The penalty's matrix, the upper triangle by row; null for none.</param>
    /// <param name="pull">The penalty's gradient at the estimate; null for none.</param>
    public ClusterExpansion Build(double[]? penalty = null, double[]? pull = null)
    {
        int[] clusters = [.. Enumerable.Range(0, _seen.Length).Where(c => _seen[c])];
        var rows = new double[clusters.Length * _columns];
        for (int c = 0; c < clusters.Length; c++)
            _rows.AsSpan(clusters[c] * _columns, _columns).CopyTo(rows.AsSpan(c * _columns));
        var third = new double[_triples];
        if (!_ownThird)
            AddTriples(third);
        return new ClusterExpansion(
            clusters, rows, _ownThird ? null : third, penalty ?? new double[_pairs], pull ?? new double[_parameters], _total);
    }

    /// <summary>Adds the third derivatives held, each set of three parameters once, in order.</summary>
    private void AddTriples(Span<double> into)
    {
        for (int i = 0, k = 0; i < _parameters; i++)
            for (int pair = PairAt(i); pair < _pairs; pair++, k++)
                into[k] += _third[i * _pairStride + pair];
    }

    private void Centre(Span<double> rows, ReadOnlySpan<double> shares)
    {
        ref double z = ref MemoryMarshal.GetReference(rows);
        for (int c = 0; c < _stride; c += 4)
        {
            Vector256<double> mean = default;
            for (int v = 0; v < shares.Length; v++)
                mean = Vector256.FusedMultiplyAdd(Vector256.Create(shares[v]), Vector256.LoadUnsafe(ref z, (nuint)(v * _stride + c)), mean);
            mean.CopyTo(_mean, c);
            for (int v = 0; v < shares.Length; v++)
            {
                nuint at = (nuint)(v * _stride + c);
                (Vector256.LoadUnsafe(ref z, at) - mean).StoreUnsafe(ref z, at);
            }
        }
    }

    /// <summary>Where the products of one parameter with itself and those after it begin.</summary>
    private int PairAt(int parameter) => parameter * _parameters - parameter * (parameter - 1) / 2;

    /// <summary>Adds the products of three parameters in order, i ≤ j ≤ l; the others are the same.</summary>
    private void AddThird(ref double z, double expected)
    {
        ref double products = ref MemoryMarshal.GetArrayDataReference(_products);
        ref double third = ref MemoryMarshal.GetArrayDataReference(_third);
        for (int j = 0, k = 0; j < _parameters; k += _parameters - j, j++)
        {
            // What a vector writes too much is written over by the next parameter's.
            var scaled = Vector256.Create(expected * Unsafe.Add(ref z, j));
            for (int l = j; l < _parameters; l += 4)
                (scaled * Vector256.LoadUnsafe(ref z, (nuint)l)).StoreUnsafe(ref products, (nuint)(k + l - j));
        }
        for (int i = 0; i < _parameters; i++)
        {
            var zi = Vector256.Create(Unsafe.Add(ref z, i));
            for (int k = PairAt(i) & ~3; k < _pairs; k += 4)
            {
                nuint at = (nuint)(i * _pairStride + k);
                Vector256.FusedMultiplyAdd(zi, Vector256.LoadUnsafe(ref products, (nuint)k), Vector256.LoadUnsafe(ref third, at)).StoreUnsafe(ref third, at);
            }
        }
    }
}
