using Indicators.Statistics.Expansions;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Smooth;

/// <summary>A smooth curve laid out for its resamples at the chosen λ: its expansion about the estimate in few coordinates.</summary>
/// <remarks>
/// The coordinates make the information H and the penalty P diagonal together, UᵀHU = diag(ς), UᵀPU = diag(1 − ς) (after Demmler and
/// Reinsch 1975): ς is 1 for directions the data settle and near 0 for those the penalty does. A resample moves a
/// direction by a variance of order ς, and its second derivative by one of order ς(1 − ς): directions that together make up less than
/// <see cref="LeftOut"/> of the one and <see cref="LeftOutOfBends"/> of the other are held still.
/// What smoothing flattens is not in the resamples: as a penalised curve is the centre of a posterior, the true curve lies about it
/// with the further covariance φ Σ_j (1 − ς_j) U_j U_jᵀ, the difference of the posterior's and the sampling covariance (Wahba 1983; Nychka
/// 1988; Marra and Wood 2012).
/// </remarks>
public sealed class SmoothRefits
{
    /// <summary>The share of the refits' variance that may be held still.</summary>
    private const double LeftOut = 1e-3;

    /// <summary>The share of the variance of their second derivatives that may be held still.</summary>
    private const double LeftOutOfBends = 0.02;

    private readonly int _periods, _kept;
    private readonly double[] _directions, _flattened;

    private SmoothRefits(int periods, int kept, double[] directions, double[] flattened, ClusterExpansion expansion)
    {
        (_periods, _kept, _directions, _flattened, Expansion) = (periods, kept, directions, flattened, expansion);
    }

    /// <summary>The expansion in the coordinates that are kept; null once it was let go.</summary>
    public ClusterExpansion? Expansion { get; private set; }

    /// <summary>Lets go of the expansion, when all resamples are read off it.</summary>
    public void LetGo() => Expansion = null;

    /// <summary>How many standard normals a draw of what smoothing flattens needs.</summary>
    public int Normals => _flattened.Length / _periods;

    /// <summary>Lays out a chosen curve.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="chosen">Its curve.</param>
    /// <param name="dispersion">φ, see <see cref="SmoothSelection.DispersionOf"/>.</param>
    public static SmoothRefits Of(PanelCounts panel, SmoothSelection chosen, double dispersion)
    {
        var penalty = chosen.Penalty ?? throw new ArgumentException("There is no curve.", nameof(chosen));
        int periods = panel.Periods, m = periods - 1;
        var expected = new ExpectedCounts(panel);
        for (int t = 0; t < periods; t++)
            expected.Powers[t] = Math.Exp(chosen.Effects[t]);
        expected.Evaluate(new Resample(panel), PeriodMask.First(periods), withCross: true);

        var basis = Matrix<double>.Build.Dense(periods, m, (t, j) => penalty.Basis[t * penalty.Stride + j]);
        var information = Matrix<double>.Build.Dense(periods, periods, (t, u) =>
            (t == u ? expected.Means[t] : 0) - expected.Powers[t] * expected.Powers[u] * expected.Cross[Math.Min(t, u) * panel.Stride + Math.Max(t, u)]);
        var inCoordinates = basis.TransposeThisAndMultiply(information * basis);
        var whole = inCoordinates + Matrix<double>.Build.DenseDiagonal(m, m, j => penalty.Diagonal[j]);
        var inverseRoot = ((whole + whole.Transpose()) / 2).Cholesky().Factor.Inverse();
        var spectral = inverseRoot * inCoordinates * inverseRoot.Transpose();
        var eigen = ((spectral + spectral.Transpose()) / 2).Evd(Symmetricity.Symmetric);
        // Ascending: the last are those the data settle best.
        double[] settled = [.. eigen.EigenValues.Select(v => Math.Clamp(v.Real, 0, 1))];
        var turn = inverseRoot.TransposeThisAndMultiply(eigen.EigenVectors);
        var directions = basis * turn;
        double left = LeftOut * settled.Sum(s => s * s), leftOfBends = LeftOutOfBends * settled.Sum(s => s * (1 - s));
        int held = 0;
        while (held < m - 1 && (left -= settled[held] * settled[held]) >= 0 && (leftOfBends -= settled[held] * (1 - settled[held])) >= 0)
            held++;
        int kept = m - held;

        var pull = new double[kept];
        double[] b = [.. Enumerable.Range(0, m).Select(j => Enumerable.Range(0, periods).Sum(t => penalty.Spline.Axes[t * m + j] * chosen.Effects[t]) / penalty.Scale[j])];
        for (int j = 0; j < kept; j++)
            for (int i = 0; i < m; i++)
                pull[j] += turn[i, held + j] * penalty.Diagonal[i] * b[i];
        var stiff = new double[kept * (kept + 1) / 2];
        for (int j = 0, k = 0; j < kept; k += kept - j, j++)
            stiff[k] = 1 - settled[held + j];

        var flattened = new double[periods * m];
        var packed = new double[periods * kept];
        for (int t = 0; t < periods; t++)
        {
            for (int j = 0; j < m; j++)
                flattened[t * m + j] = Math.Sqrt(dispersion * (1 - settled[j])) * directions[t, j];
            for (int j = 0; j < kept; j++)
                packed[t * kept + j] = directions[t, held + j];
        }
        return new SmoothRefits(periods, kept, packed, flattened, Expand(panel, expected.Powers, packed, kept, stiff, pull));
    }

    /// <summary>Adds U d to curves laid out at [period × stride + resample].</summary>
    /// <param name="steps">Steps of a block, see <see cref="ClusterExpansion.Refit"/>.</param>
    /// <param name="count">How many resamples of the block to do.</param>
    /// <param name="curves">What is added to.</param>
    /// <param name="stride">How far apart periods are.</param>
    public void AddMoved(double[] steps, int count, Span<double> curves, int stride) =>
        AddProducts(_directions, _kept, steps, ClusterSums.Block, count, curves, stride);

    /// <summary>Adds draws of what smoothing flattens to curves laid out at [period × stride + resample].</summary>
    /// <param name="normals">Standard normals at [number × normalStride + resample], at least <see cref="Normals"/> a resample.</param>
    /// <param name="normalStride">How far apart a resample's normals are.</param>
    /// <param name="count">How many resamples.</param>
    /// <param name="curves">What is added to.</param>
    /// <param name="stride">How far apart periods are.</param>
    public void AddFlattened(ReadOnlySpan<double> normals, int normalStride, int count, Span<double> curves, int stride) =>
        AddProducts(_flattened, Normals, normals, normalStride, count, curves, stride);

    private void AddProducts(double[] matrix, int width, ReadOnlySpan<double> values, int valueStride, int count, Span<double> curves, int stride)
    {
        for (int t = 0; t < _periods; t++)
        {
            var curve = curves.Slice(t * stride, count);
            for (int j = 0; j < width; j++)
                ScaledSum.Add(values.Slice(j * valueStride, count), matrix[t * width + j], curve);
        }
    }

    private static ClusterExpansion Expand(PanelCounts panel, double[] powers, double[] directions, int kept, double[] penalty, double[] pull)
    {
        int periods = panel.Periods;
        var builder = new ExpansionBuilder(kept, panel.ClusterCount);
        double[] laid = new double[periods * builder.Stride], rows = new double[laid.Length], shares = new double[periods], observed = new double[kept];
        for (int t = 0; t < periods; t++)
            directions.AsSpan(t * kept, kept).CopyTo(laid.AsSpan(t * builder.Stride));
        for (int s = 0; s < panel.Units; s++)
        {
            double sum = 0, total = 0, weight = panel.Weights[s];
            Array.Clear(observed);
            for (int t = 0; t < periods; t++)
            {
                sum += shares[t] = panel.Exposure(s, t) * powers[t];
                double y = weight * panel.Count(s, t);
                total += y;
                if (y > 0)
                    ScaledSum.Add(directions.AsSpan(t * kept, kept), y, observed);
            }
            if (total == 0)
                continue;
            for (int t = 0; t < periods; t++)
                shares[t] /= sum;
            laid.CopyTo(rows, 0);
            builder.Add(panel.Clusters[s], rows, shares, total, observed);
        }
        return builder.Build(penalty, pull);
    }
}
