using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;
using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Shocks;

/// <summary>What one series brings to <see cref="UnderlyingSlopes"/>.</summary>
/// <param name="Slope">β̂, finite.</param>
/// <param name="SlopeDraws">β*_b, one a resample; NaN where lost, may be infinite.</param>
/// <param name="Residuals">The sample's residuals and leverage over the series' periods.</param>
/// <param name="ResidualDraws">r*_bt, resample after resample, one a period; NaN throughout where the slope was lost.</param>
/// <param name="Periods">Where each of the series' periods stands on the axis common to all series, ascending.</param>
/// <param name="Clusters">K, at least 2.</param>
public sealed record ShockSeries(
    double Slope, double[] SlopeDraws, SeasonResiduals Residuals, double[] ResidualDraws, int[] Periods, int Clusters);

/// <summary>
/// Which way several series go beneath shocks that all their units share in a season, jointly.
/// </summary>
/// <remarks>
/// Resampling units shows how the slope varies between units; it does not see a good or bad season that lifts or sinks
/// them all. The shocks' covariance over series is estimated by moments from the season residuals, less what resampling
/// alone makes of them: C_kl = [Σ_t r_tk r_tl − ω Σ_t cov_b(r*_tk, r*_tl)] / (‖A_k‖‖A_l‖), ω = K/(K−1), made positive
/// semidefinite; shocks drawn from it move each slope by Σ_t h_tk H_tk and are added to the bootstrap's own spread, the sum
/// stretched by Student's t on degrees of freedom combined after Satterthwaite 1946. Two-way counterparts: Cameron, Gelbach
/// and Miller 2011; Donald and Lang 2007. Shocks that last from one season to the next are not covered.
/// </remarks>
public sealed class UnderlyingSlopes
{
    /// <summary>With fewer periods than this nothing can be said of shocks between them.</summary>
    public const int MinimumPeriods = 3;

    private readonly IReadOnlyList<ShockSeries> _series;
    private readonly double[][] _units, _shocks;
    private readonly int _periods, _resamples;

    /// <summary>Estimates the shocks and draws them.</summary>
    /// <param name="series">The series, all with as many resamples; at least one.</param>
    /// <param name="periods">The length of the common axis.</param>
    /// <param name="normals">Where the shocks come from.</param>
    public UnderlyingSlopes(IReadOnlyList<ShockSeries> series, int periods, NormalDraws normals)
    {
        (_series, _periods, _resamples) = (series, periods, series[0].SlopeDraws.Length);
        Covariance = ShockCovariance();
        _units = [.. series.Select(UnitDeviations)];
        _shocks = ShockDeviations(normals);
    }

    /// <summary>C: the estimated covariance of the shocks between series, before it is made positive semidefinite.</summary>
    public Matrix<double> Covariance { get; }

    /// <summary>The standard deviation of one series' shocks on the log scale, 0 when the moments give no positive variance.</summary>
    public double SeasonSd(int series) => Math.Sqrt(Math.Max(0, Covariance[series, series]));

    /// <summary>Stretched draws of one series' underlying slope, one a resample; NaN where lost.</summary>
    public double[] Draws(int series, double confidence) =>
        Stretched(_series[series].Slope, _units[series], _shocks[series], _series[series].Clusters, _series[series].Periods.Length, confidence);

    /// <summary>Stretched draws of the mean underlying slope of all series.</summary>
    public double[] MeanDraws(double confidence) =>
        Stretched(
            _series.Average(s => s.Slope), Mean(_units), Mean(_shocks), _series.Min(s => s.Clusters), _periods, confidence);

    private Matrix<double> ShockCovariance()
    {
        int n = _series.Count;
        var c = Matrix<double>.Build.Dense(n, n);
        for (int k = 0; k < n; k++)
        {
            for (int l = k; l < n; l++)
            {
                ShockSeries one = _series[k], other = _series[l];
                int clusters = Math.Min(one.Clusters, other.Clusters);
                double omega = clusters / (clusters - 1.0), sum = 0;
                for (int t = 0, u = 0; t < one.Periods.Length; t++)
                {
                    while (u < other.Periods.Length && other.Periods[u] < one.Periods[t])
                        u++;
                    if (u == other.Periods.Length || other.Periods[u] != one.Periods[t])
                        continue;
                    sum += one.Residuals.Residuals[t] * other.Residuals.Residuals[u] - omega * DrawCovariance(one, t, other, u);
                }
                c[k, l] = c[l, k] = sum / (one.Residuals.ResponseNorm * other.Residuals.ResponseNorm);
            }
        }
        return c;
    }

    private double DrawCovariance(ShockSeries one, int t, ShockSeries other, int u)
    {
        double sumX = 0, sumY = 0, sumXY = 0;
        int count = 0;
        for (int b = 0; b < _resamples; b++)
        {
            double x = one.ResidualDraws[b * one.Periods.Length + t], y = other.ResidualDraws[b * other.Periods.Length + u];
            if (double.IsNaN(x) || double.IsNaN(y))
                continue;
            (sumX, sumY, sumXY, count) = (sumX + x, sumY + y, sumXY + x * y, count + 1);
        }
        return count < 2 ? 0 : (sumXY - sumX * sumY / count) / (count - 1);
    }

    /// <summary>a_kb = √ω (β*_kb − β̂_k).</summary>
    private static double[] UnitDeviations(ShockSeries series)
    {
        double root = Math.Sqrt(series.Clusters / (series.Clusters - 1.0));
        return [.. series.SlopeDraws.Select(draw => root * (draw - series.Slope))];
    }

    /// <summary>s_kb = Σ_t h_tk H_tk with H = Z L′, L = Q √max(Λ, 0).</summary>
    private double[][] ShockDeviations(NormalDraws normals)
    {
        int n = _series.Count;
        var eigen = Covariance.Evd(Symmetricity.Symmetric);
        var root = eigen.EigenVectors * Matrix<double>.Build.DenseDiagonal(n, n, i => Math.Sqrt(Math.Max(0, eigen.EigenValues[i].Real)));
        // Σ_t h_tk Σ_j Z_tj L_kj: the seasons are summed first, so that one pass over Z serves every series.
        var shocks = new double[n][];
        for (int k = 0; k < n; k++)
            shocks[k] = new double[_resamples];
        var z = new double[_periods * n];
        for (int b = 0; b < _resamples; b++)
        {
            normals.Draw(b, z);
            for (int k = 0; k < n; k++)
            {
                var series = _series[k];
                double sum = 0;
                for (int j = 0; j < n; j++)
                {
                    double weight = root[k, j];
                    if (weight == 0)
                        continue;
                    double pulled = 0;
                    for (int t = 0; t < series.Periods.Length; t++)
                        pulled += series.Residuals.Leverage[t] * z[series.Periods[t] * n + j];
                    sum += weight * pulled;
                }
                shocks[k][b] = sum;
            }
        }
        return shocks;
    }

    private static double[] Stretched(double slope, double[] units, double[] shocks, int clusters, int periods, double confidence)
    {
        double v1 = Variance(units), v2 = Variance(shocks);
        int byUnits = clusters - 1, bySeasons = periods - 2;
        double total = (v1 + v2) * (v1 + v2);
        double satterthwaite = total == 0 ? byUnits : total / (v1 * v1 / byUnits + v2 * v2 / bySeasons);
        double freedom = 2 / (1 / satterthwaite + 1.0 / Math.Min(bySeasons, byUnits));
        double p = 1 - (1 - confidence) / 2;
        double factor = Quantile.OfStudentT(p, freedom) / Quantile.OfNormal(p);
        return [.. units.Select((unit, b) => slope + factor * (unit + shocks[b]))];
    }

    private static double Variance(double[] values)
    {
        double sum = 0, squares = 0;
        int count = 0;
        foreach (double value in values)
            if (double.IsFinite(value)) (sum, count) = (sum + value, count + 1);
        double mean = sum / count;
        foreach (double value in values)
            if (double.IsFinite(value)) squares += (value - mean) * (value - mean);
        return count < 2 ? 0 : squares / (count - 1);
    }

    private static double[] Mean(double[][] rows) => [.. Enumerable.Range(0, rows[0].Length).Select(b => rows.Average(row => row[b]))];
}
