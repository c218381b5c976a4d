using System.Runtime.Intrinsics;
using Indicators.Statistics.Expansions;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Statistics.Adjusted;

/// <summary>
/// An adjusted trend laid out for its resamples: its expansion about the estimate, and how its seasons lie about it.
/// </summary>
/// <remarks>
/// Season residuals are those of <see cref="SeasonResiduals"/> with more parameters: with M_t = Σ_{v in t} μ_v z̃_v, z̃ a visit's row less its
/// unit's mean, and I the information, a shock of 1 in season t moves the parameters by I⁻¹M_t, whose first place is h_t; and
/// A_tu = δ_tu − Σ_s (μ_st/μ_t) p_su − M_tᵀI⁻¹M_u / μ_t. Without covariates both are the raw model's.
/// </remarks>
public sealed class AdjustedRefits
{
    private readonly int[] _columns;
    private readonly double _halfSpan;
    private readonly double[] _lean;
    private readonly ClusterSums _seasons;
    private readonly int _periods;

    private AdjustedRefits(
        int[] columns, double halfSpan, ClusterExpansion expansion, SeasonResiduals residuals, double[] lean, ClusterSums seasons, int periods)
    {
        (_columns, _halfSpan, Expansion, Residuals) = (columns, halfSpan, expansion, residuals);
        (_lean, _seasons, _periods) = (lean, seasons, periods);
    }

    /// <summary>
    /// The expansion; its first parameter is the trend over half the span of the series (<see cref="SlopeOf"/>), the others are the
    /// effects that could be estimated, in the covariates' order.
    /// </summary>
    public ClusterExpansion Expansion { get; }

    /// <summary>The sample's own season residuals and leverage.</summary>
    public SeasonResiduals Residuals { get; }

    /// <summary>Which covariate each parameter after the first belongs to.</summary>
    public IReadOnlyList<int> Covariates => [.. _columns.Skip(1).Select(c => c - 1)];

    /// <summary>The first parameter's step as a change of the slope per unit of time.</summary>
    public double SlopeOf(double step) => step / _halfSpan;

    /// <summary>Where a full refit of a resample best starts: at the sample's own fit, moved by the resample's steps.</summary>
    /// <param name="sample">The sample's own fit.</param>
    /// <param name="steps">Steps of a block.</param>
    /// <param name="resample">Which resample of the block.</param>
    public AdjustedStart StartOf(AdjustedStart sample, double[] steps, int resample)
    {
        double[] parameters = [.. sample.Parameters];
        for (int c = 0; c < _columns.Length; c++)
            parameters[_columns[c]] += steps[c * ClusterSums.Block + resample];
        return new AdjustedStart(parameters, sample.Free);
    }

    /// <summary>How long the array of season sums must be.</summary>
    public int SeasonSumsLength => _seasons.SumsLength;

    /// <summary>Lays out a trend that was fitted to the sample itself.</summary>
    /// <param name="visits">The visits.</param>
    /// <param name="fit">Their trend, finite.</param>
    public static AdjustedRefits Of(VisitPanel visits, AdjustedFit fit)
    {
        var panel = visits.Panel;
        int[] columns = [.. Enumerable.Range(0, visits.Columns).Where(c => c == 0 || fit.IsEstimable(c - 1))];
        double[] theta = [fit.Slope * visits.HalfSpan, .. fit.Coefficients];
        int n = columns.Length, periods = panel.Periods;
        var builder = new ExpansionBuilder(n, panel.ClusterCount);
        int most = 0;
        for (int s = 0; s < panel.Units; s++)
            most = Math.Max(most, visits.First[s + 1] - visits.First[s]);
        int stride = builder.Stride;
        double[] rows = new double[most * stride], shares = new double[most + 4], observed = new double[n];
        double[] mu = new double[periods], counts = new double[periods], pull = new double[periods * stride], p = new double[periods];
        var share = new double[periods * periods];
        var seasons = new double[panel.ClusterCount * 2 * periods];
        for (int s = 0; s < panel.Units; s++)
        {
            int first = visits.First[s], number = visits.First[s + 1] - first;
            if (number == 0)
                continue;
            double sum = 0, weight = panel.Weights[s], total = 0;
            for (int v = 0; v < number; v++)
            {
                var row = visits.Rows.Values.AsSpan(visits.RowOf[first + v] * visits.Stride, visits.Stride);
                double eta = 0;
                for (int c = 0; c < n; c++)
                {
                    double z = rows[v * stride + c] = row[columns[c]];
                    eta += z * theta[columns[c]];
                }
                shares[v] = eta;
                total += weight * visits.Counts[first + v];
            }
            for (int v = 0; v < number; v += 4)
                FourWide.Exp(Vector256.Create(shares, v)).CopyTo(shares, v);
            for (int v = 0; v < number; v++)
                sum += shares[v];
            Array.Clear(p);
            int cluster = panel.Clusters[s];
            for (int v = 0; v < number; v++)
            {
                shares[v] /= sum;
                int t = visits.Periods[first + v];
                p[t] += shares[v];
                counts[t] += weight * visits.Counts[first + v];
                seasons[(cluster * 2 + 0) * periods + t] += weight * visits.Counts[first + v];
            }
            for (int c = 0; c < n; c++)
                observed[c] = weight * visits.Observed[s * visits.Stride + columns[c]];
            builder.Add(cluster, rows, shares.AsSpan(0, number), total, observed);
            for (int v = 0; v < number; v++)
                ScaledSum.Add(rows.AsSpan(v * stride, stride), total * shares[v], pull.AsSpan(visits.Periods[first + v] * stride, stride));
            for (int t = 0; t < periods; t++)
            {
                double expected = total * p[t];
                if (expected == 0)
                    continue;
                mu[t] += expected;
                seasons[(cluster * 2 + 1) * periods + t] += expected;
                ScaledSum.Add(p, expected, share.AsSpan(t * periods, periods));
            }
        }

        var (residuals, lean) = Residual(builder, visits.HalfSpan, panel.Times, mu, counts, [.. Enumerable.Range(0, periods * n).Select(i => pull[i / n * stride + i % n])], share);
        int[] clusters = [.. panel.Clusters.Where((_, s) => visits.First[s + 1] > visits.First[s]).Distinct().Order()];
        var packed = new double[clusters.Length * 2 * periods];
        for (int c = 0; c < clusters.Length; c++)
            seasons.AsSpan(clusters[c] * 2 * periods, 2 * periods).CopyTo(packed.AsSpan(c * 2 * periods));
        return new AdjustedRefits(
            columns, visits.HalfSpan, builder.Build(), residuals, lean, new ClusterSums(clusters, packed, 2 * periods), periods);
    }

    /// <summary>
    /// The season residuals of a block of resamples: observed over expected, less 1, the logarithm of the expected moved along by the
    /// steps to first order. Worth nothing where a step is long.
    /// </summary>
    /// <param name="multiplicities">A block of the plan.</param>
    /// <param name="count">How many resamples of the block to do.</param>
    /// <param name="steps">Their steps, see <see cref="ClusterExpansion.Refit"/>.</param>
    /// <param name="sums">Scratch of <see cref="SeasonSumsLength"/>.</param>
    /// <param name="residuals">At [period × stride + resample]; overwritten.</param>
    /// <param name="stride">How far apart periods are.</param>
    public void FillResiduals(ReadOnlySpan<double> multiplicities, int count, double[] steps, double[] sums, Span<double> residuals, int stride)
    {
        _seasons.Sum(multiplicities, sums);
        int n = _columns.Length;
        Span<double> lean = stackalloc double[ClusterSums.Block];
        for (int t = 0; t < _periods; t++)
        {
            lean.Clear();
            for (int c = 0; c < n; c++)
                ScaledSum.Add(steps.AsSpan(c * ClusterSums.Block, ClusterSums.Block), -_lean[t * n + c], lean);
            var observed = sums.AsSpan(t * ClusterSums.Block, count);
            var expected = sums.AsSpan((_periods + t) * ClusterSums.Block, count);
            for (int b = 0; b < ClusterSums.Block; b += 4)
                FourWide.Exp(Vector256.Create<double>(lean[b..])).CopyTo(lean[b..]);
            for (int b = 0; b < count; b++)
                residuals[t * stride + b] = expected[b] > 0 ? observed[b] * lean[b] / expected[b] - 1 : 0;
        }
    }

    private static (SeasonResiduals Residuals, double[] Lean) Residual(
        ExpansionBuilder builder, double halfSpan, double[] times, double[] mu, double[] counts, double[] pull, double[] share)
    {
        int periods = mu.Length, n = pull.Length / periods;
        var inverse = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseOfArray(builder.Information()).Cholesky();
        double[] leverage = new double[periods], residuals = new double[periods], lean = new double[periods * n];
        var moved = new double[periods][];
        for (int t = 0; t < periods; t++)
        {
            moved[t] = [.. inverse.Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(n, c => pull[t * n + c]))];
            leverage[t] = moved[t][0] / halfSpan;
        }
        var answers = new double[periods * periods];
        for (int t = 0; t < periods; t++)
        {
            if (mu[t] == 0)
                continue;
            residuals[t] = counts[t] / mu[t] - 1;
            for (int c = 0; c < n; c++)
                lean[t * n + c] = pull[t * n + c] / mu[t];
            for (int u = 0; u < periods; u++)
            {
                double answer = (t == u ? 1 : 0) - share[t * periods + u] / mu[t];
                for (int c = 0; c < n; c++)
                    answer -= lean[t * n + c] * moved[u][c];
                answers[t * periods + u] = answer;
            }
        }
        return (new SeasonResiduals(leverage, residuals, ShockResponse.Of(answers, times)), lean);
    }
}
