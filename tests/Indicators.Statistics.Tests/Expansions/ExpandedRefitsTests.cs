using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Expansions;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;
using Indicators.Statistics.Smooth;
using Xunit;

namespace Indicators.Statistics.Tests.Expansions;

/// <summary>Refits read off expansions against full refits of the same resamples.</summary>
public class ExpandedRefitsTests
{
    private const int Units = 40, Periods = 14, Visits = 3;
    private static readonly double[] Times = [.. Enumerable.Range(0, Periods).Select(t => 2000.0 + t)];

    /// <summary>Visits whose counts are near Poisson, with two covariates that matter; <paramref name="perCluster"/> units in a cluster.</summary>
    private static VisitPanel Drawn(double level, int covariates = 2, int perCluster = 2, Func<int, double>? course = null)
    {
        List<int> units = [], periods = [];
        List<double> counts = [], x = [];
        for (int s = 0; s < Units; s++)
            for (int t = 0; t < Periods; t++)
                for (int v = 0; v < Visits; v++)
                {
                    var (a, b, c, d) = Philox.Block((uint)((s * Periods + t) * Visits + v), 3, 1, 4, 15, 9);
                    double one = a / 4294967296.0 - 0.5, two = b / 4294967296.0 - 0.5;
                    double mean = level * Math.Exp(1.2 * one - 0.8 * two - 0.04 * (t - 7) + s % 5 * 0.2 + (course?.Invoke(t) ?? 0));
                    units.Add(s);
                    periods.Add(t);
                    counts.Add(Poisson(mean, c / 4294967296.0));
                    x.AddRange(((double[])[one, two])[..covariates]);
                }
        double[] y = new double[Units * Periods], n = new double[y.Length];
        for (int v = 0; v < units.Count; v++)
        {
            y[units[v] * Periods + periods[v]] += counts[v];
            n[units[v] * Periods + periods[v]]++;
        }
        var panel = new PanelCounts(
            Times, y, n, [.. Enumerable.Range(0, Units).Select(s => s % 7 == 0 ? 2.0 : 1)], [.. Enumerable.Range(0, Units).Select(s => s / perCluster)]);
        return new VisitPanel(panel, [.. units], [.. periods], [.. counts], [.. x], covariates);
    }

    private static double Poisson(double mean, double uniform)
    {
        int y = 0;
        for (double p = Math.Exp(-mean), sum = p; sum < uniform && y < 50; sum += p)
            p *= mean / ++y;
        return y;
    }

    private static double[] Block(int clusters, ResamplingPlan? plan)
    {
        var block = new double[clusters * ClusterSums.Block];
        var one = new int[clusters];
        for (int b = 0; b < ClusterSums.Block; b++)
        {
            plan?.Draw(b, one);
            for (int c = 0; c < clusters; c++)
                block[c * ClusterSums.Block + b] = plan is null ? 1 : one[c];
        }
        return block;
    }

    private static (double[] Steps, double[] Lengths) Steps(ClusterExpansion expansion, double[] block)
    {
        double[] steps = new double[expansion.Parameters * ClusterSums.Block], lengths = new double[ClusterSums.Block];
        expansion.Refit(block, new ClusterExpansion.Workspace(expansion), steps, lengths);
        return (steps, lengths);
    }

    [Fact]
    public void Sample_itself_is_where_it_was_and_a_doubled_one_too()
    {
        var visits = Drawn(0.5);
        var refits = AdjustedRefits.Of(visits, AdjustedFit.Of(visits, AdjustedModel.Trend));
        double[] once = Block(visits.Panel.ClusterCount, null);
        foreach (double[] block in (double[][])[once, [.. once.Select(x => 2 * x)]])
        {
            var (steps, lengths) = Steps(refits.Expansion!, block);
            Assert.All(steps, d => Assert.Equal(0, d, 1e-10));
            Assert.All(lengths, l => Assert.Equal(0, l, 1e-6));
        }
    }

    [Theory]
    // 20 clusters: third derivatives of each resample's own; errors are of third order in steps that change predictors by 0.1 to 0.2.
    [InlineData(1.0, 2, 0.004)]
    [InlineData(0.3, 2, 0.02)]
    // 40 clusters as well; the steps are shorter.
    [InlineData(1.0, 1, 0.004)]
    public void Adjusted_steps_are_near_those_of_full_refits(double level, int perCluster, double tolerance)
    {
        var visits = Drawn(level, perCluster: perCluster);
        var fit = AdjustedFit.Of(visits, AdjustedModel.Trend);
        var refits = AdjustedRefits.Of(visits, fit);
        var plan = new ResamplingPlan(5, 6, visits.Panel.ClusterCount);
        var (steps, lengths) = Steps(refits.Expansion!, Block(plan.Clusters, plan));
        var full = new AdjustedFit(visits, AdjustedModel.Trend);
        var sample = new Resample(visits.Panel);
        var one = new int[plan.Clusters];
        double furthest = 0, longest = 0;
        for (int b = 0; b < ClusterSums.Block; b++)
        {
            plan.Draw(b, one);
            sample.Fill(one);
            Assert.Equal(AdjustedStatus.Finite, full.Fit(sample, default, fit.ToStart(), 1e-9));
            double slope = (full.Slope - fit.Slope) / refits.SlopeOf(1);
            furthest = Math.Max(furthest, Math.Abs(steps[b] - slope));
            longest = Math.Max(longest, Math.Abs(slope));
            for (int c = 0; c < 2; c++)
                furthest = Math.Max(furthest, Math.Abs(steps[(1 + c) * ClusterSums.Block + b] - (full.Coefficients[c] - fit.Coefficients[c])));
        }
        Assert.True(furthest < tolerance, $"{furthest}");
        Assert.True(longest > 0.05, $"Nothing moved: {longest}");
        Assert.All(lengths, l => Assert.InRange(l, 0.005, 0.6));
    }

    [Fact]
    public void Resample_without_what_a_parameter_needs_is_told_by_its_length()
    {
        var visits = Drawn(0.5);
        var refits = AdjustedRefits.Of(visits, AdjustedFit.Of(visits, AdjustedModel.Trend));
        var (_, lengths) = Steps(refits.Expansion!, new double[visits.Panel.ClusterCount * ClusterSums.Block]);
        Assert.All(lengths, l => Assert.Equal(double.PositiveInfinity, l));
    }

    [Fact]
    public void Season_residuals_without_covariates_are_the_raw_trends()
    {
        var visits = Drawn(0.5, covariates: 0);
        var fit = AdjustedFit.Of(visits, AdjustedModel.Trend);
        var refits = AdjustedRefits.Of(visits, fit);
        var raw = SeasonResiduals.Of(visits.Panel, Periods, fit.Slope);
        Assert.Equal(Math.Sqrt(raw.Response.Squares(0)), Math.Sqrt(refits.Residuals.Response.Squares(0)), 1e-10);
        for (int t = 0; t < Periods; t++)
        {
            Assert.Equal(raw.Leverage[t], refits.Residuals.Leverage[t], 1e-10);
            Assert.Equal(raw.Residuals[t], refits.Residuals.Residuals[t], 1e-10);
        }
    }

    [Fact]
    public void Leverage_of_an_adjusted_season_is_what_a_shock_does_to_the_slope()
    {
        var visits = Drawn(1);
        var fit = AdjustedFit.Of(visits, AdjustedModel.Trend);
        var refits = AdjustedRefits.Of(visits, fit);
        const double shock = 1e-6;
        foreach (int season in (int[])[0, 5, 13])
        {
            // What is expected is lifted a little in one season and fitted again; what is observed but not expected stays out of it.
            var shocked = Shocked(visits, fit, season, shock);
            var (before, after) = (AdjustedFit.Of(Shocked(visits, fit, season, 0), AdjustedModel.Trend), AdjustedFit.Of(shocked, AdjustedModel.Trend));
            Assert.Equal(fit.Slope, before.Slope, 1e-9);
            Assert.Equal(refits.Residuals.Leverage[season], (after.Slope - before.Slope) / shock, 1e-5);
        }
    }

    /// <summary>The visits with their expected counts in place of the observed ones, one season's times e^shock.</summary>
    private static VisitPanel Shocked(VisitPanel visits, AdjustedFit fit, int season, double shock)
    {
        List<int> units = [], periods = [];
        List<double> counts = [], x = [];
        double[] y = new double[Units * Periods], n = new double[y.Length];
        for (int s = 0; s < Units; s++)
        {
            var means = new List<double>();
            double total = Enumerable.Range(0, Periods).Sum(t => visits.Panel.Count(s, t));
            for (int t = 0; t < Periods; t++)
                for (int v = 0; v < Visits; v++)
                {
                    var (a, b, _, _) = Philox.Block((uint)((s * Periods + t) * Visits + v), 3, 1, 4, 15, 9);
                    double one = a / 4294967296.0 - 0.5, two = b / 4294967296.0 - 0.5;
                    units.Add(s);
                    periods.Add(t);
                    x.AddRange([one, two]);
                    means.Add(Math.Exp(
                        fit.Slope * t + fit.Coefficients[0] * one / visits.Covariates[0].StandardDeviation + fit.Coefficients[1] * two / visits.Covariates[1].StandardDeviation));
                }
            double sum = means.Sum();
            for (int i = 0; i < means.Count; i++)
            {
                double count = total * means[i] / sum * (i / Visits == season ? Math.Exp(shock) : 1);
                counts.Add(count);
                y[s * Periods + i / Visits] += count;
                n[s * Periods + i / Visits]++;
            }
        }
        var weights = Enumerable.Range(0, Units).Select(visits.Panel.WeightOf).ToArray();
        return new VisitPanel(new PanelCounts(Times, y, n, weights), [.. units], [.. periods], [.. counts], [.. x], 2);
    }

    [Fact]
    public void Residuals_of_resamples_are_near_those_of_full_refits()
    {
        var visits = Drawn(1);
        var fit = AdjustedFit.Of(visits, AdjustedModel.Trend);
        var refits = AdjustedRefits.Of(visits, fit);
        var plan = new ResamplingPlan(5, 6, visits.Panel.ClusterCount);
        double[] block = Block(plan.Clusters, plan);
        var (steps, _) = Steps(refits.Expansion!, block);
        var residuals = new double[Periods * ClusterSums.Block];
        refits.FillResiduals(block, ClusterSums.Block, steps, new double[refits.SeasonSumsLength], residuals, ClusterSums.Block);
        var full = new AdjustedFit(visits, AdjustedModel.Trend);
        var sample = new Resample(visits.Panel);
        var one = new int[plan.Clusters];
        var own = new double[Periods];
        for (int b = 0; b < ClusterSums.Block; b++)
        {
            plan.Draw(b, one);
            sample.Fill(one);
            full.Fit(sample, default, fit.ToStart(), 1e-9);
            full.FillResiduals(sample, own, 1);
            for (int t = 0; t < Periods; t++)
                Assert.Equal(own[t], residuals[t * ClusterSums.Block + b], 0.02);
        }
    }

    [Theory]
    [InlineData(2, 0.02)]
    [InlineData(1, 0.02)]
    public void Smooth_curves_are_near_those_of_full_refits(int perCluster, double tolerance)
    {
        var panel = Drawn(0.4, perCluster: perCluster, course: t => 0.6 * Math.Sin(t / 2.0)).Panel;
        double dispersion = SmoothSelection.DispersionOf(panel);
        var chosen = SmoothSelection.Choose(panel, dispersion: dispersion);
        Assert.InRange(chosen.EffectiveDegreesOfFreedom, 3, 10);
        var refits = SmoothRefits.Of(panel, chosen, dispersion);
        Assert.InRange(refits.Expansion!.Parameters, 4, Periods - 1);
        var plan = new ResamplingPlan(5, 6, panel.ClusterCount);
        var (steps, _) = Steps(refits.Expansion!, Block(plan.Clusters, plan));
        var moved = new double[Periods * ClusterSums.Block];
        refits.AddMoved(steps, ClusterSums.Block, moved, ClusterSums.Block);
        var full = new SmoothFit(panel);
        var sample = new Resample(panel);
        var one = new int[plan.Clusters];
        double[] start = [.. chosen.Effects];
        double furthest = 0, longest = 0;
        for (int b = 0; b < ClusterSums.Block; b++)
        {
            plan.Draw(b, one);
            sample.Fill(one);
            Assert.Equal(SlopeStatus.Finite, full.Fit(sample, chosen.Penalty!, start, 1e-9));
            for (int t = 0; t < Periods; t++)
            {
                furthest = Math.Max(furthest, Math.Abs(full.Effects[t] - chosen.Effects[t] - moved[t * ClusterSums.Block + b]));
                longest = Math.Max(longest, Math.Abs(full.Effects[t] - chosen.Effects[t]));
            }
        }
        Assert.True(furthest < tolerance, $"{furthest}");
        Assert.True(longest > 0.2, $"Nothing moved: {longest}");
    }

    [Fact]
    public void What_smoothing_flattens_adds_up_to_the_posterior_less_the_sampling_covariance()
    {
        // φ (H + P)⁻¹ P (H + P)⁻¹ worked out on the curves that add up to 0, in the penalty's own axes.
        var panel = Drawn(0.4, course: t => 0.6 * Math.Sin(t / 2.0)).Panel;
        var chosen = SmoothSelection.Choose(panel);
        const double dispersion = 1.7;
        var refits = SmoothRefits.Of(panel, chosen, dispersion);
        var normals = new double[refits.Normals * refits.Normals];
        for (int j = 0; j < refits.Normals; j++)
            normals[j * refits.Normals + j] = 1;
        var columns = new double[Periods * refits.Normals];
        refits.AddFlattened(normals, refits.Normals, refits.Normals, columns, refits.Normals);

        var build = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build;
        var hessian = build.Dense(Periods, Periods);
        for (int s = 0; s < Units; s++)
        {
            double[] p = [.. Enumerable.Range(0, Periods).Select(t => panel.Exposure(s, t) * Math.Exp(chosen.Effects[t]))];
            double sum = p.Sum(), total = panel.WeightOf(s) * Enumerable.Range(0, Periods).Sum(t => panel.Count(s, t));
            for (int t = 0; t < Periods; t++)
                for (int u = 0; u < Periods; u++)
                    hessian[t, u] += total * ((t == u ? p[t] / sum : 0) - p[t] / sum * p[u] / sum);
        }
        var penalty = chosen.Penalty!.Lambda * build.DenseOfArray(chosen.Penalty.Spline.Penalty);
        // Any basis of the curves that add up to 0 will do.
        var basis = build.Dense(Periods, Periods - 1, (t, j) => t == j ? 1.0 : t == j + 1 ? -1.0 : 0);
        var inverse = (basis.Transpose() * (hessian + penalty) * basis).Inverse();
        var expected = dispersion * basis * inverse * basis.Transpose() * penalty * basis * inverse * basis.Transpose();
        for (int t = 0; t < Periods; t++)
            for (int u = 0; u < Periods; u++)
            {
                double found = Enumerable.Range(0, refits.Normals).Sum(j => columns[t * refits.Normals + j] * columns[u * refits.Normals + j]);
                Assert.Equal(expected[t, u], found, 1e-9);
            }
    }
}
