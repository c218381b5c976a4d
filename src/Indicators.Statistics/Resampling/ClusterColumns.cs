using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Indicators.Statistics.Resampling;

/// <summary>
/// Quantities that add up over clusters, summed for a block of resamples at once: multiplicities (resamples × clusters) times
/// columns (clusters × quantities), a matrix product in tiles of 4 × 8 registers and a fixed order.
/// </summary>
public sealed class ClusterColumns
{
    /// <summary>How many resamples a block holds.</summary>
    public const int Block = 32;

    private const int Panel = 8;
    private const int Tile = 4;

    private readonly int[] _clusters;
    private readonly double[] _panels;

    /// <summary>Packs the columns.</summary>
    /// <param name="clusters">The cluster of each row; clusters without a row count for nothing.</param>
    /// <param name="values">Row after row, as many values a row.</param>
    public ClusterColumns(ReadOnlySpan<int> clusters, ReadOnlySpan<double> values)
    {
        _clusters = clusters.ToArray();
        Columns = clusters.IsEmpty ? 0 : values.Length / clusters.Length;
        Stride = (Columns + Panel - 1) / Panel * Panel;
        _panels = new double[Stride * clusters.Length];
        for (int row = 0; row < clusters.Length; row++)
            for (int column = 0; column < Columns; column++)
                _panels[(column / Panel * clusters.Length + row) * Panel + column % Panel] = values[row * Columns + column];
    }

    /// <summary>How many quantities there are.</summary>
    public int Columns { get; }

    /// <summary>How far apart the sums of two resamples stand.</summary>
    public int Stride { get; }

    /// <summary>Sums every quantity for every resample of a block.</summary>
    /// <param name="multiplicities">At [cluster × <see cref="Block"/> + resample].</param>
    /// <param name="sums">At [resample × <see cref="Stride"/> + quantity], for all resamples of the block; overwritten.</param>
    public void Sum(ReadOnlySpan<double> multiplicities, Span<double> sums)
    {
        if (_clusters.Length == 0 || sums.Length < Block * Stride || multiplicities.Length < (_clusters.Max() + 1) * Block)
            throw new ArgumentException("Room for a block of resamples and a multiplicity for every cluster are needed.", nameof(sums));
        int rows = _clusters.Length;
        ref double m = ref MemoryMarshal.GetReference(multiplicities);
        ref double to = ref MemoryMarshal.GetReference(sums);
        ref double panels = ref MemoryMarshal.GetArrayDataReference(_panels);
        ref int clusters = ref MemoryMarshal.GetArrayDataReference(_clusters);
        for (int panel = 0; panel < Stride / Panel; panel++)
        {
            for (int b = 0; b < Block; b += Tile)
            {
                Vector256<double> x0 = default, y0 = default, x1 = default, y1 = default, x2 = default, y2 = default, x3 = default, y3 = default;
                nuint at = (nuint)(panel * rows * Panel);
                for (int row = 0; row < rows; row++, at += Panel)
                {
                    var u = Vector256.LoadUnsafe(ref panels, at);
                    var v = Vector256.LoadUnsafe(ref panels, at + Panel / 2);
                    nuint weight = (nuint)(Unsafe.Add(ref clusters, row) * Block + b);
                    var w = Vector256.Create(Unsafe.Add(ref m, weight));
                    x0 = Vector256.FusedMultiplyAdd(w, u, x0);
                    y0 = Vector256.FusedMultiplyAdd(w, v, y0);
                    w = Vector256.Create(Unsafe.Add(ref m, weight + 1));
                    x1 = Vector256.FusedMultiplyAdd(w, u, x1);
                    y1 = Vector256.FusedMultiplyAdd(w, v, y1);
                    w = Vector256.Create(Unsafe.Add(ref m, weight + 2));
                    x2 = Vector256.FusedMultiplyAdd(w, u, x2);
                    y2 = Vector256.FusedMultiplyAdd(w, v, y2);
                    w = Vector256.Create(Unsafe.Add(ref m, weight + 3));
                    x3 = Vector256.FusedMultiplyAdd(w, u, x3);
                    y3 = Vector256.FusedMultiplyAdd(w, v, y3);
                }
                nuint place = (nuint)(b * Stride + panel * Panel), next = (nuint)Stride;
                x0.StoreUnsafe(ref to, place);
                y0.StoreUnsafe(ref to, place + Panel / 2);
                x1.StoreUnsafe(ref to, place + next);
                y1.StoreUnsafe(ref to, place + next + Panel / 2);
                x2.StoreUnsafe(ref to, place + 2 * next);
                y2.StoreUnsafe(ref to, place + 2 * next + Panel / 2);
                x3.StoreUnsafe(ref to, place + 3 * next);
                y3.StoreUnsafe(ref to, place + 3 * next + Panel / 2);
            }
        }
    }
}
