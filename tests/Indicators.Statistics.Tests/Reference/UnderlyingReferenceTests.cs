using System.Globalization;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The underlying slopes of two series of simulated_a against the same definition written out in R, with slopes and expected
/// counts from glm (tests/reference/underlying/make.R).
/// </summary>
public class UnderlyingReferenceTests
{
    private readonly PanelCounts[] _panels;
    private readonly double[] _seasons;
    private readonly SeasonResiduals[] _residuals;
    private readonly ShockSeries[] _series;
    private readonly UnderlyingSlopes _slopes;

    public UnderlyingReferenceTests()
    {
        var cells = ReferenceTable.Read("simulated_a/cells.csv").Rows.ToArray();
        (var whole, _seasons) = ReferenceTable.Panel(cells);
        _panels = [Heard(whole), Heard(EveryThirdSilenced(whole))];
        int[][] multiplicities = [.. ReferenceTable.Read("bootstrap/multiplicities.csv").Rows
            .Select(r => Enumerable.Range(1, whole.ClusterCount).Select(w => (int)r.Number($"w{w}")).ToArray())];
        _residuals = [.. _panels.Select(p => SeasonResiduals.Of(p, p.Periods, TrendFit.Of(p).Value))];
        _series = [.. _panels.Select((p, k) => Series(p, _residuals[k], multiplicities))];
        int resamples = multiplicities.Length;
        var normals = new double[2 * resamples];
        for (int j = 0; j < 2; j++)
            for (int b = 0; b < resamples; b++)
                normals[j * resamples + b] = Quantile.OfNormal(((37 * (b + 1) + 5 * (j + 1)) % 199 + 0.5) / 199);
        _slopes = new UnderlyingSlopes(_series, normals);
    }

    [Fact]
    public void Residuals_leverage_and_shocks_agree_with_the_definition()
    {
        foreach (var row in ReferenceTable.Read("underlying/quantities.csv").Rows)
        {
            int k = (int)row.Number("series") - 1;
            double actual = row["quantity"] switch
            {
                "slope" => _series[k].Slope,
                "clusters" => _series[k].Clusters,
                "response_norm" => Math.Sqrt(_residuals[k].Response.Squares(0)),
                "carried_norm" => Math.Sqrt(_residuals[k].Response.Squares(_slopes.CarryOver)),
                "carry_over" => _slopes.CarryOver,
                "leverage" => _residuals[k].Leverage[Array.IndexOf(_seasons, row.Number("at"))],
                "residual" => _residuals[k].Residuals[Array.IndexOf(_seasons, row.Number("at"))],
                "covariance" => _slopes.Covariance[k, (int)row.Number("at") - 1],
                "season_sd" => _slopes.SeasonSd(k),
                "shocks" => _slopes.Variances(k).Shocks,
                var other => throw new InvalidOperationException($"Nothing checks {other}."),
            };
            Near.Relative(row.Number("value"), actual, Near.Estimate, row);
        }
    }

    [Fact]
    public void Underlying_draws_agree_one_by_one()
    {
        double[] first = _slopes.Draws(0, 0.95), second = _slopes.Draws(1, 0.95), mean = _slopes.MeanDraws(0.95);
        foreach (var row in ReferenceTable.Read("underlying/draws.csv").Rows)
        {
            int b = int.Parse(row["resample"], CultureInfo.InvariantCulture) - 1;
            Near.Relative(row.Number("first"), first[b], 1e-7, row);
            Near.Relative(row.Number("second"), second[b], 1e-7, row);
            Near.Relative(row.Number("mean"), mean[b], 1e-7, row);
        }
    }

    /// <summary>
    /// Residual draws larger than the residuals leave the second series no variance of its own while it goes with the first: C is not positive semidefinite. By the closed form of a
    /// 2 × 2 matrix C⁺ is the larger eigenvalue λ times its own direction, with variances λ (λ − d)² / n and λ b² / n, n = (λ − d)² + b², which add up to λ; scaled they add up to C₁₁.
    /// </summary>
    [Fact]
    public void Shocks_that_are_not_positive_semidefinite_keep_the_variance_that_shows()
    {
        // Quantiles in two orders that have nothing to do with each other: variances near 1, a correlation near 0.
        int resamples = _series[0].SlopeDraws.Length, between = 0;
        double[] normals = [.. new[] { 1, 37 }.SelectMany(step => Enumerable.Range(0, resamples).Select(b => Quantile.OfNormal((b * step % resamples + 0.5) / resamples)))];
        for (double times = 1; times < 5; times += 0.1)
        {
            var weak = _series[1] with { ResidualDraws = [.. _series[1].ResidualDraws.Select(r => times * r)] };
            var slopes = new UnderlyingSlopes([_series[0], weak], normals);
            double a = slopes.Covariance[0, 0], b = slopes.Covariance[0, 1], d = slopes.Covariance[1, 1];
            if (a * d >= b * b)
                continue;
            double larger = (a + d) / 2 + Math.Sqrt((a - d) * (a - d) / 4 + b * b), norm = (larger - d) * (larger - d) + b * b;
            double[] variances = [larger * (larger - d) * (larger - d) / norm, larger * b * b / norm];
            double scale = (Math.Max(0, a) + Math.Max(0, d)) / larger;
            Assert.True(scale < 1);
            for (int k = 0; k < 2; k++)
            {
                double leverage = SeasonCarryOver.Form(
                    _residuals[k].Leverage, _series[k].Periods, _residuals[k].Leverage, _series[k].Periods, slopes.CarryOver);
                Assert.Equal(1, slopes.Variances(k).Shocks / (scale * variances[k] * leverage), 0.1);
            }
            between++;
        }
        Assert.True(between > 0);
    }

    /// <summary>t on 4 degrees of freedom is 2.776445 (R: qt(.975, 4)), the normal quantile 1.959964: what five wetlands alone are stretched by, as in the observed range.</summary>
    [Fact]
    public void Weak_shocks_leave_no_range_narrower_than_wetlands_alone()
    {
        double[] normals = [.. Enumerable.Range(0, _series[0].SlopeDraws.Length).Select(b => 0.1 * Quantile.OfNormal((b + 0.5) / _series[0].SlopeDraws.Length))];
        var slopes = new UnderlyingSlopes([_series[0] with { Clusters = 5 }], normals);
        slopes.Draws(0, 0.95, out double stretch);
        var (wetlands, shocks) = slopes.Variances(0);
        Assert.InRange(shocks, double.Epsilon, wetlands);
        double satterthwaite = Quantile.OfStudentT(0.975, UnderlyingSlopes.DegreesOfFreedom(wetlands, shocks, 5, _seasons.Length));
        Assert.True(satterthwaite * Math.Sqrt(wetlands + shocks) < 2.776445 * Math.Sqrt(wetlands));
        Assert.Equal(2.776445 / 1.959964, stretch * Math.Sqrt((wetlands + shocks) / wetlands), 1e-6);
    }

    [Fact]
    public void Influence_is_what_a_little_more_of_a_wetland_does_to_the_residuals()
    {
        double[][] influence = [.. _panels.Select((p, k) => _residuals[k].Influence(p, p.Periods, TrendFit.Of(p).Value))];
        foreach (var row in ReferenceTable.Read("underlying/influence.csv").Rows)
        {
            int k = (int)row.Number("series") - 1, cluster = (int)row.Number("wetland") - 1, clusters = _panels[k].ClusterCount;
            double psi = influence[k][Array.IndexOf(_seasons, row.Number("season")) * clusters + cluster] / Math.Sqrt(clusters - 1);
            Assert.True(Math.Abs(row.Number("psi") - psi) < 1e-6, row.ToString());
        }
    }

    private static ShockSeries Series(PanelCounts panel, SeasonResiduals residuals, int[][] multiplicities)
    {
        var sample = new Resample(panel);
        var trend = new TrendFit(panel.Periods);
        var scratch = new double[SeasonResiduals.ScratchLength(panel)];
        var slopes = new double[multiplicities.Length];
        var draws = new double[panel.Periods * multiplicities.Length];
        for (int b = 0; b < multiplicities.Length; b++)
        {
            sample.Fill(multiplicities[b]);
            slopes[b] = trend.Fit(sample, panel.Periods, 0, 1e-13).Value;
            SeasonResiduals.OfResample(sample, panel.Periods, slopes[b], scratch, draws.AsSpan(b), multiplicities.Length);
        }
        return new ShockSeries(
            TrendFit.Of(panel).Value, slopes, residuals, draws, [.. panel.Times.Select(t => (int)t)], panel.InformativeClusters(panel.Periods));
    }

    /// <summary>The second series of the script: cells whose station and season numbers add up to a multiple of three are silent.</summary>
    internal static PanelCounts EveryThirdSilenced(PanelCounts panel) => Remade(panel, _ => true, (s, t) => (s + 1 + t + 1) % 3 == 0 ? 0 : panel.Count(s, t));

    /// <summary>Units without a count say nothing, and the script leaves them out.</summary>
    private static PanelCounts Heard(PanelCounts panel) =>
        Remade(panel, s => Enumerable.Range(0, panel.Periods).Any(t => panel.Count(s, t) > 0), panel.Count);

    private static PanelCounts Remade(PanelCounts panel, Func<int, bool> keep, Func<int, int, double> count)
    {
        int[] units = [.. Enumerable.Range(0, panel.Units).Where(keep)];
        int[] periods = [.. Enumerable.Range(0, panel.Periods)];
        return new PanelCounts(
            panel.Times,
            [.. units.SelectMany(s => periods.Select(t => count(s, t)))],
            [.. units.SelectMany(s => periods.Select(t => panel.Exposure(s, t)))],
            [.. units.Select(panel.WeightOf)],
            [.. units.Select(panel.ClusterOf)],
            panel.ClusterCount);
    }
}
