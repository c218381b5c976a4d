using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class ExpandedSlopesTests
{
    private const int Seasons = 14, Stations = 22, Wetlands = 13;

    /// <summary>Counts that fall by a tenth a season, with gaps; the key makes another panel of it.</summary>
    private static PanelCounts Panel(uint key, int from = 0)
    {
        uint counter = 0;
        double Uniform() => Philox.Block(counter++, 0, 0, 0, key, 3).W0 / 4294967296.0;
        double[] y = new double[Stations * Seasons], n = new double[y.Length];
        for (int s = 0; s < Stations; s++)
        {
            double loud = 3 * Uniform();
            for (int t = 0; t < Seasons; t++)
            {
                n[s * Seasons + t] = Uniform() < 0.25 ? 0 : 1 + (int)(3 * Uniform());
                if (n[s * Seasons + t] > 0) y[s * Seasons + t] = Math.Floor(n[s * Seasons + t] * loud * Math.Exp(-0.1 * t) * 2 * Uniform());
            }
        }
        double[] Late(double[] values) => [.. Enumerable.Range(0, Stations).SelectMany(s => values[(s * Seasons + from)..((s + 1) * Seasons)])];
        return new PanelCounts(
            [.. Enumerable.Range(from, Seasons - from).Select(t => 2010.0 + t)], Late(y), Late(n),
            [.. Enumerable.Range(0, Stations).Select(s => 1 + s % 3 * 0.5)], [.. Enumerable.Range(0, Stations).Select(s => s % Wetlands)], Wetlands);
    }

    private static SlopeToRefit Slope(PanelCounts panel, int periods) =>
        new(panel, periods, new TrendFit(panel.Periods).Fit(new Resample(panel), periods, 0, 1e-13).Value);

    [Theory]
    [InlineData(1u)]
    [InlineData(2u)]
    [InlineData(3u)]
    public void Slopes_of_resamples_agree_with_fits_one_by_one(uint key)
    {
        PanelCounts whole = Panel(key), late = Panel(key, from: 6), other = Panel(key + 10);
        SlopeToRefit[] slopes = [.. Enumerable.Range(5, Seasons - 5).Select(p => Slope(whole, p)), Slope(late, late.Periods), Slope(other, Seasons)];
        var expanded = new ExpandedSlopes(slopes);
        var workspace = new ExpandedSlopes.Workspace(expanded);
        var plan = new ResamplingPlan(5, key, Wetlands);
        var sums = new double[ClusterColumns.Block * expanded.Columns.Stride];
        var weights = new double[ClusterColumns.Block * Wetlands];
        int[][] draws = [.. Enumerable.Range(0, ClusterColumns.Block).Select(_ => new int[Wetlands])];
        const double tolerance = 2e-3;
        double worst = 0;
        for (int block = 0; block < 20; block++)
        {
            for (int b = 0; b < ClusterColumns.Block; b++)
            {
                plan.Draw(block * ClusterColumns.Block + b, draws[b]);
                for (int c = 0; c < Wetlands; c++)
                    weights[c * ClusterColumns.Block + b] = draws[b][c];
            }
            expanded.Columns.Sum(weights, sums);
            for (int b = 0; b < ClusterColumns.Block; b++)
            {
                expanded.Refit(sums.AsSpan(b * expanded.Columns.Stride), draws[b], workspace, tolerance);
                for (int i = 0; i < slopes.Length; i++)
                {
                    var panel = slopes[i].Panel;
                    var sample = new Resample(panel);
                    sample.Fill(draws[b]);
                    var exact = new TrendFit(panel.Periods).Fit(sample, slopes[i].Periods, slopes[i].Slope, 1e-13);
                    if (double.IsFinite(exact.Value))
                        worst = Math.Max(worst, Math.Abs(exact.Value - workspace.Slopes[i]) * (panel.Times[slopes[i].Periods - 1] - panel.Times[0]));
                    else
                        Assert.Equal(exact.Value, workspace.Slopes[i]);
                }
            }
        }
        Assert.InRange(worst, double.Epsilon, 2 * tolerance);
    }

    [Fact]
    public void Resample_without_calls_on_both_sides_has_an_infinite_slope()
    {
        // Two wetlands hear it early only, one late only: without the last the slope falls without bound.
        var panel = new PanelCounts([1, 2], [3, 0, 2, 0, 0, 4], [1, 1, 1, 1, 1, 1]);
        var expanded = new ExpandedSlopes([Slope(panel, 2)]);
        var workspace = new ExpandedSlopes.Workspace(expanded);
        var sums = new double[ClusterColumns.Block * expanded.Columns.Stride];
        foreach (var (multiplicities, expected) in new (int[], double)[] { ([2, 1, 0], double.NegativeInfinity), ([0, 0, 3], double.PositiveInfinity) })
        {
            var weights = new double[ClusterColumns.Block * 3];
            for (int c = 0; c < 3; c++)
                weights[c * ClusterColumns.Block] = multiplicities[c];
            expanded.Columns.Sum(weights, sums);
            expanded.Refit(sums, multiplicities, workspace, 2e-3);
            Assert.Equal(expected, workspace.Slopes[0]);
        }
    }

    [Fact]
    public void Sums_over_clusters_are_the_matrix_product()
    {
        int[] clusters = [0, 2, 5];
        double[] values = [.. Enumerable.Range(0, 3 * 11).Select(i => Math.Sin(i + 1))];
        var columns = new ClusterColumns(clusters, values);
        double[] weights = [.. Enumerable.Range(0, 6 * ClusterColumns.Block).Select(i => (double)(i * 7 % 5))];
        var sums = new double[ClusterColumns.Block * columns.Stride];
        columns.Sum(weights, sums);
        for (int b = 0; b < ClusterColumns.Block; b++)
            for (int k = 0; k < 11; k++)
                Assert.Equal(clusters.Select((c, row) => weights[c * ClusterColumns.Block + b] * values[row * 11 + k]).Sum(), sums[b * columns.Stride + k], 1e-12);
    }
}
