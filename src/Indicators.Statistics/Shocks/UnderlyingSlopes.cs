using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Shocks;

/// <summary>What one series brings to <see cref="UnderlyingSlopes"/>.</summary>
/// <param name="Slope">β̂, finite.</param>
/// <param name="SlopeDraws">β*_b, one a resample; NaN where lost, may be infinite.</param>
/// <param name="Residuals">The sample's residuals and leverage over the series' periods.</param>
/// <param name="ResidualDraws">
/// r*_tb, period after period, one value a resample; NaN where the slope was lost or infinite. Fewer resamples than slope
/// draws will do: the first ones.
/// </param>
/// <param name="Periods">The seasons of the series' periods, in whole years (or counted from any season common to all series), ascending.</param>
/// <param name="Clusters">K, at least 2.</param>
public sealed record ShockSeries(
    double Slope, double[] SlopeDraws, SeasonResiduals Residuals, double[] ResidualDraws, int[] Periods, int Clusters)
{
    /// <summary>a_b = √ω (β*_b − β̂), ω = K/(K−1): how far each resample's slope lies off the sample's, widened for what resampling K clusters loses.</summary>
    public double[] UnitDeviations()
    {
        var deviations = new double[SlopeDraws.Length];
        AddUnitDeviations(1, deviations);
        return deviations;
    }

    /// <summary>Adds a share of <see cref="UnitDeviations"/> to other values.</summary>
    internal void AddUnitDeviations(double share, Span<double> values)
    {
        double by = share * Math.Sqrt(Widening);
        for (int b = 0; b < values.Length; b++)
            values[b] += by * (SlopeDraws[b] - Slope);
    }

    /// <summary>The variance of <see cref="UnitDeviations"/>.</summary>
    internal double UnitVariance => Widening * DrawMoments.Of(SlopeDraws).Variance;

    /// <summary>ω.</summary>
    private double Widening => Clusters / (Clusters - 1.0);

    /// <summary>Σ_t r_t r_{t+1} over seasons one year apart, less what resampling alone makes of it.</summary>
    internal double SharedWithNeighbours()
    {
        double sum = 0;
        for (int t = 1; t < Periods.Length; t++)
            if (Periods[t] == Periods[t - 1] + 1)
                sum += Residuals.Residuals[t] * Residuals.Residuals[t - 1] - Widening * DrawMoments.Covariance(ResidualsOf(t), ResidualsOf(t - 1));
        return sum;
    }

    /// <summary>One period's residual draws.</summary>
    internal ReadOnlySpan<double> ResidualsOf(int period)
    {
        int count = ResidualDraws.Length / Periods.Length;
        return ResidualDraws.AsSpan(period * count, count);
    }
}

/// <summary>
/// Which way several series go beneath shocks that all their units share in a season, jointly.
/// </summary>
/// <remarks>
/// Resampling units shows how the slope varies between units; it does not see a good or bad season that lifts or sinks
/// them all. The shocks' covariance over series is estimated by moments from the season residuals, less what resampling
/// alone makes of them: C_kl = [Σ_t r_tk r_tl − ω Σ_t cov_b(r*_tk, r*_tl)] / √(tr A_k R A_kᵀ · tr A_l R A_lᵀ), ω = K/(K−1),
/// made positive semidefinite to C⁺ and scaled so that its variances add up to the series' own, max(0, C_kk): the more series, the more C⁺ alone would have; R_tu = ρ^|t−u| says how shocks carry over, ρ one for all series (<see cref="SeasonCarryOver.Of"/>). Shocks H_tk with
/// that covariance move the slopes by s_k = Σ_t h_tk H_tk, which is normal with covariance C⁺_kl h_k′ R h_l: s is drawn from
/// that, one normal a series in place of one a series and season. It is added to the bootstrap's own spread, the sum stretched
/// by Student's t on degrees of freedom combined after Satterthwaite 1946, at least as wide as clusters alone. Two-way counterparts: Cameron, Gelbach and Miller
/// 2011; Donald and Lang 2007.
/// </remarks>
public sealed class UnderlyingSlopes
{
    private readonly IReadOnlyList<ShockSeries> _series;
    private readonly Matrix<double> _positive, _root;
    private readonly Vector<double> _squares;
    private readonly ReadOnlyMemory<double> _normals;
    private readonly (double Clusters, double Shocks)?[] _variances;
    private readonly int _resamples;

    /// <summary>Estimates the shocks and draws them.</summary>
    /// <param name="series">The series, all with as many resamples; at least one.</param>
    /// <param name="normals">
    /// Independent standard normal draws, at [series × resamples + resample]; longer arrays are fine. They are kept and not changed.
    /// </param>
    /// <param name="carryOver">ρ, where it is known better than from these series; null to estimate it.</param>
    public UnderlyingSlopes(IReadOnlyList<ShockSeries> series, ReadOnlyMemory<double> normals, double? carryOver = null)
    {
        (_series, _normals, _resamples) = (series, normals, series[0].SlopeDraws.Length);
        var shared = SharedProducts();
        _squares = shared.Diagonal();
        CarryOver = carryOver ?? SeasonCarryOver.Of(series, _squares);
        double[] norms = [.. series.Select(one => Math.Sqrt(one.Residuals.Response.Squares(CarryOver)))];
        Covariance = shared.MapIndexed((k, l, sum) => sum / (norms[k] * norms[l]));
        _positive = OfEigenvalues(Covariance, value => value);
        if (_positive.Trace() is > 0 and var trace)
            _positive *= Enumerable.Range(0, series.Count).Sum(k => Math.Max(0, Covariance[k, k])) / trace;
        _root = ShockRoot();
        _variances = new (double, double)?[series.Count];
    }

    /// <summary>ρ: the correlation of one season's shocks with those of the season before.</summary>
    public double CarryOver { get; }

    /// <summary>What these series tell of ρ, to be put together with others' (<see cref="SeasonCarryOver.Together"/>).</summary>
    public IReadOnlyList<double> CarryOverEvidence() => SeasonCarryOver.Evidence(_series, _squares);

    /// <summary>C: the estimated covariance of the shocks between series, before it is made positive semidefinite.</summary>
    public Matrix<double> Covariance { get; }

    /// <summary>The standard deviation of one series' shocks on the log scale, 0 when the moments give no positive variance.</summary>
    public double SeasonSd(int series) => Math.Sqrt(Math.Max(0, Covariance[series, series]));

    /// <summary>Variance of one series' slope between resampled clusters, and of what the drawn shocks add, both unstretched.</summary>
    public (double Clusters, double Shocks) Variances(int series) => _variances[series] ?? VariancesWith(series, Shocks([series]));

    /// <summary>Stretched draws of one series' underlying slope, one a resample; NaN where lost.</summary>
    public double[] Draws(int series, double confidence) => Draws(series, confidence, out _);

    /// <summary>Stretched draws of one series' underlying slope, one a resample; NaN where lost.</summary>
    /// <param name="series">Which, by its place.</param>
    /// <param name="confidence">0 to 1.</param>
    /// <param name="stretch">What they are stretched by.</param>
    public double[] Draws(int series, double confidence, out double stretch)
    {
        var one = _series[series];
        double[] draws = Shocks([series]);
        var (byClusters, byShocks) = VariancesWith(series, draws);
        stretch = StudentT(byClusters, byShocks, one.Clusters, one.Residuals.Response.Telling, confidence);
        one.AddUnitDeviations(1, draws);
        Stretch(draws, one.Slope, stretch);
        return draws;
    }

    /// <summary>Stretched draws of the mean underlying slope of all series.</summary>
    public double[] MeanDraws(double confidence) => MeanDraws([.. Enumerable.Range(0, _series.Count)], confidence);

    /// <summary>Stretched draws of the mean underlying slope of some series, their shocks still joint.</summary>
    /// <param name="series">Which, by their place; at least one.</param>
    /// <param name="confidence">0 to 1.</param>
    public double[] MeanDraws(IReadOnlyList<int> series, double confidence)
    {
        double[] draws = Shocks(series), units = new double[_resamples];
        foreach (int k in series)
            _series[k].AddUnitDeviations(1.0 / series.Count, units);
        int clusters = series.Min(k => _series[k].Clusters), periods = series.Max(k => _series[k].Residuals.Response.Telling);
        double stretch = StudentT(DrawMoments.Of(units).Variance, DrawMoments.Of(draws).Variance, clusters, periods, confidence);
        ScaledSum.Add(units, 1, draws);
        Stretch(draws, series.Average(k => _series[k].Slope), stretch);
        return draws;
    }

    /// <summary>
    /// The degrees of freedom of Student's t that the draws are stretched by, Satterthwaite's 1946, which weigh clusters against
    /// periods.
    /// </summary>
    /// <param name="byClusters">Variance of the slope between clusters.</param>
    /// <param name="byShocks">Variance that shared shocks add.</param>
    /// <param name="clusters">K, at least 2.</param>
    /// <param name="periods">Periods, at least 3.</param>
    public static double DegreesOfFreedom(double byClusters, double byShocks, int clusters, int periods)
    {
        int freeClusters = clusters - 1, freePeriods = periods - 2;
        double total = (byClusters + byShocks) * (byClusters + byShocks);
        return total == 0 ? freeClusters : total / (byClusters * byClusters / freeClusters + byShocks * byShocks / freePeriods);
    }

    /// <summary>Σ_t r_tk r_tl for every two series, less what resampling alone makes of it.</summary>
    private Matrix<double> SharedProducts()
    {
        int n = _series.Count;
        var products = Matrix<double>.Build.Dense(n, n);
        for (int k = 0; k < n; k++)
        {
            for (int l = k; l < n; l++)
            {
                ShockSeries one = _series[k], other = _series[l];
                int clusters = Math.Min(one.Clusters, other.Clusters);
                double omega = clusters / (clusters - 1.0), sum = 0;
                foreach (var (t, u) in SharedPeriods(one, other))
                {
                    double drawn = DrawMoments.Covariance(one.ResidualsOf(t), other.ResidualsOf(u));
                    sum += one.Residuals.Residuals[t] * other.Residuals.Residuals[u] - omega * drawn;
                }
                products[k, l] = products[l, k] = sum;
            }
        }
        return products;
    }

    /// <summary>
    /// R, the symmetric root of C⁺ ∘ HᵀH, for s = R z: unlike a triangular one or QΛ^½ it does not depend on the order of the
    /// series, nor on the signs and the order that an eigensolver happens to return.
    /// </summary>
    private Matrix<double> ShockRoot()
    {
        int n = _series.Count;
        return OfEigenvalues(Matrix<double>.Build.Dense(n, n, (k, l) => _positive[k, l] * SharedLeverage(_series[k], _series[l])), Math.Sqrt);
    }

    /// <summary>The mean of some series' shocks s in each resample.</summary>
    private double[] Shocks(IReadOnlyList<int> series)
    {
        var shocks = new double[_resamples];
        for (int j = 0; j < _series.Count; j++)
        {
            double root = 0;
            foreach (int k in series)
                root += _root[k, j] / series.Count;
            if (root != 0)
                ScaledSum.Add(_normals.Span.Slice(j * _resamples, _resamples), root, shocks);
        }
        return shocks;
    }

    /// <summary>The variances of one series whose shocks are at hand.</summary>
    private (double Clusters, double Shocks) VariancesWith(int series, double[] shocks)
    {
        var variances = _variances[series] ?? (_series[series].UnitVariance, DrawMoments.Of(shocks).Variance);
        _variances[series] = variances;
        return variances;
    }

    /// <summary>A symmetric matrix with its negative eigenvalues made 0 and the others replaced.</summary>
    private static Matrix<double> OfEigenvalues(Matrix<double> symmetric, Func<double, double> of)
    {
        int n = symmetric.RowCount;
        if (n == 1)
            return Matrix<double>.Build.Dense(1, 1, of(Math.Max(0, symmetric[0, 0])));
        var eigen = symmetric.Evd(Symmetricity.Symmetric);
        var vectors = eigen.EigenVectors;
        return vectors * Matrix<double>.Build.DenseDiagonal(n, n, i => of(Math.Max(0, eigen.EigenValues[i].Real))) * vectors.Transpose();
    }

    /// <summary>Σ_tu h_tk h_ul ρ^|t−u|.</summary>
    private double SharedLeverage(ShockSeries one, ShockSeries other) =>
        SeasonCarryOver.Form(one.Residuals.Leverage, one.Periods, other.Residuals.Leverage, other.Periods, CarryOver);

    /// <summary>Where the periods that two series share stand in each of them.</summary>
    private static IEnumerable<(int, int)> SharedPeriods(ShockSeries one, ShockSeries other)
    {
        for (int t = 0, u = 0; t < one.Periods.Length; t++)
        {
            while (u < other.Periods.Length && other.Periods[u] < one.Periods[t])
                u++;
            if (u < other.Periods.Length && other.Periods[u] == one.Periods[t])
                yield return (t, u);
        }
    }

    private static void Stretch(double[] deviations, double slope, double stretch)
    {
        foreach (ref double draw in deviations.AsSpan())
            draw = slope + stretch * draw;
    }

    /// <summary>
    /// t over z, and never so little that clusters and shocks together came out narrower than clusters alone with K − 1: where shocks are small and
    /// periods many, Satterthwaite's degrees of freedom gain more than the shocks add.
    /// </summary>
    private static double StudentT(double byClusters, double byShocks, int clusters, int periods, double confidence)
    {
        double p = 1 - (1 - confidence) / 2, both = byClusters + byShocks;
        double together = Quantile.OfStudentT(p, DegreesOfFreedom(byClusters, byShocks, clusters, periods));
        double alone = both > 0 ? Quantile.OfStudentT(p, clusters - 1) * Math.Sqrt(byClusters / both) : 0;
        return Math.Max(together, alone) / Quantile.OfNormal(p);
    }
}
