using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Resampling;

/// <summary>
/// The same sums as <see cref="ClusterColumns"/> with the resamples of a block next to each other, for work that treats four resamples
/// as one vector: columns (quantities × clusters) times multiplicities (clusters × resamples), in tiles of 6 × 8 registers and
/// a fixed order.
/// </summary>
public sealed class ClusterSums
{
    /// <summary>How many resamples a block holds.</summary>
    public const int Block = ClusterColumns.Block;

    private const int Tile = 6, Width = 8;

    private readonly int[] _rows;
    private readonly double[] _packed;

    /// <summary>Packs the values.</summary>
    /// <param name="clusters">The cluster of each row; clusters without a row count for nothing.</param>
    /// <param name="values">Row after row, as many values a row.</param>
    /// <param name="columns">How many values a row has.</param>
    /// <exception cref="ArgumentException">Not so many values a row: a bug of the caller.</exception>
    public ClusterSums(ReadOnlySpan<int> clusters, ReadOnlySpan<double> values, int columns)
    {
        if (values.Length != clusters.Length * columns)
            throw new ArgumentException("One value a row and column.", nameof(values));
        Columns = columns;
        _rows = new int[clusters.Length];
        for (int c = 0; c < clusters.Length; c++)
            _rows[c] = clusters[c] * Block;
        _packed = new double[(columns + Tile - 1) / Tile * clusters.Length * Tile];
        for (int c = 0; c < clusters.Length; c++)
            for (int j = 0; j < columns; j++)
                _packed[(j / Tile * clusters.Length + c) * Tile + j % Tile] = values[c * columns + j];
    }

    /// <summary>How many quantities there are.</summary>
    public int Columns { get; }

    /// <summary>How long the array of sums must be.</summary>
    public int SumsLength => (Columns + Tile - 1) / Tile * Tile * Block;

    /// <summary>Sums every quantity for every resample of a block.</summary>
    /// <param name="multiplicities">At [cluster × <see cref="Block"/> + resample].</param>
    /// <param name="sums">At [quantity × <see cref="Block"/> + resample]; overwritten.</param>
    public void Sum(ReadOnlySpan<double> multiplicities, double[] sums)
    {
        if (sums.Length < SumsLength || (_rows.Length > 0 && multiplicities.Length < _rows.Max() + Block))
            throw new ArgumentException("Room for a block of resamples and a multiplicity for every cluster are needed.", nameof(sums));
        ref double weights = ref MemoryMarshal.GetReference(multiplicities);
        ref double into = ref MemoryMarshal.GetArrayDataReference(sums);
        for (int j = 0; j < Columns; j += Tile)
            for (int b = 0; b < Block; b += Width)
                SumTile(j, ref Unsafe.Add(ref weights, b), ref Unsafe.Add(ref into, j * Block + b));
    }

    private void SumTile(int column, ref double weights, ref double into)
    {
        ref double values = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_packed), (nint)column * _rows.Length);
        Vector256<double> a0 = default, a1 = default, b0 = default, b1 = default, c0 = default, c1 = default;
        Vector256<double> d0 = default, d1 = default, e0 = default, e1 = default, f0 = default, f1 = default;
        foreach (int row in _rows)
        {
            var w0 = Vector256.LoadUnsafe(ref weights, (nuint)row);
            var w1 = Vector256.LoadUnsafe(ref weights, (nuint)row + 4);
            var v = Vector256.Create(values);
            a0 = Vector256.FusedMultiplyAdd(v, w0, a0);
            a1 = Vector256.FusedMultiplyAdd(v, w1, a1);
            v = Vector256.Create(Unsafe.Add(ref values, 1));
            b0 = Vector256.FusedMultiplyAdd(v, w0, b0);
            b1 = Vector256.FusedMultiplyAdd(v, w1, b1);
            v = Vector256.Create(Unsafe.Add(ref values, 2));
            c0 = Vector256.FusedMultiplyAdd(v, w0, c0);
            c1 = Vector256.FusedMultiplyAdd(v, w1, c1);
            v = Vector256.Create(Unsafe.Add(ref values, 3));
            d0 = Vector256.FusedMultiplyAdd(v, w0, d0);
            d1 = Vector256.FusedMultiplyAdd(v, w1, d1);
            v = Vector256.Create(Unsafe.Add(ref values, 4));
            e0 = Vector256.FusedMultiplyAdd(v, w0, e0);
            e1 = Vector256.FusedMultiplyAdd(v, w1, e1);
            v = Vector256.Create(Unsafe.Add(ref values, 5));
            f0 = Vector256.FusedMultiplyAdd(v, w0, f0);
            f1 = Vector256.FusedMultiplyAdd(v, w1, f1);
            values = ref Unsafe.Add(ref values, Tile);
        }
        Store(a0, a1, ref into, 0);
        Store(b0, b1, ref into, 1);
        Store(c0, c1, ref into, 2);
        Store(d0, d1, ref into, 3);
        Store(e0, e1, ref into, 4);
        Store(f0, f1, ref into, 5);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Store(Vector256<double> x, Vector256<double> y, ref double into, nuint column)
    {
        x.StoreUnsafe(ref into, column * Block);
        y.StoreUnsafe(ref into, column * Block + 4);
    }
}
