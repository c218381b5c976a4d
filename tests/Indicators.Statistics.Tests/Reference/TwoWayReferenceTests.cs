using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The two-way standard error against R's sandwich package on glm fits with unit factors (tests/reference/two_way/make.R), and
/// what must not change it.
/// </summary>
public class TwoWayReferenceTests
{
    private static PanelCounts Panel(string name) => ReferenceTable.Panel(ReferenceTable.Read($"{name}/cells.csv").Rows).Panel;

    [Fact]
    public void Parts_and_sum_agree_with_the_sandwich_of_a_regression_with_unit_factors()
    {
        foreach (var group in ReferenceTable.Read("two_way/expected.csv").Rows.GroupBy(row => row["data"]))
        {
            PanelCounts[] panels = group.Key == "mean_of_two"
                ? [Panel("simulated_a"), UnderlyingReferenceTests.EveryThirdSilenced(Panel("simulated_a"))]
                : [Panel(group.Key)];
            var sandwich = TwoWaySandwich.OfMean([.. panels.Select(TrendFit.Of)], i => panels[i], [.. panels.SelectMany(panel => panel.Times).Distinct().Order()]);
            Assert.NotNull(sandwich);
            foreach (var row in group)
            {
                double actual = row["quantity"] switch
                {
                    "slope" => panels.Average(panel => TrendFit.Of(panel).Value),
                    "by_cluster" => sandwich.ByCluster,
                    "by_period" => sandwich.ByPeriod,
                    "by_cell" => sandwich.ByCell,
                    "sum" => sandwich.Sum,
                    "clusters" => sandwich.Clusters,
                    "periods" => sandwich.Periods,
                    var other => throw new InvalidOperationException($"Nothing checks {other}."),
                };
                // Variances are near 1e-4: compared relative to themselves, not to a thousandth.
                double scale = row.Number("value");
                Near.Relative(1, actual / scale, row["quantity"] == "slope" ? Near.Estimate : Near.StandardError, row);
            }
        }
    }

    [Fact]
    public void Weights_times_a_constant_change_nothing()
    {
        double[] times = [1, 2, 3, 4], n = [1, 1, 1, 1, 2, 2, 0, 1, 1, 3, 1, 1], y = [1, 0, 2, 3, 4, 2, 0, 1, 0, 2, 2, 1];
        PanelCounts one = new(times, y, n, [1, 2, 1.5]), other = new(times, y, n, [10, 20, 15]);
        var a = TwoWaySandwich.Of(one, TrendFit.Of(one))!;
        var b = TwoWaySandwich.Of(other, TrendFit.Of(other))!;
        Assert.Equal(a.Sum, b.Sum, 1e-12);
    }

    [Fact]
    public void A_sum_that_is_not_positive_gives_way_to_the_larger_one_way_variance()
    {
        var sandwich = new TwoWaySandwich(0.01, 0.02, 0.05, 9, 7);
        Assert.Equal(-0.02, sandwich.Sum, 1e-15);
        Assert.Equal(0.02, sandwich.Variance);
        Assert.Equal(6, sandwich.DegreesOfFreedom);
    }

    [Fact]
    public void One_cluster_or_no_finite_slope_has_none()
    {
        double[] times = [1, 2, 3], n = [1, 1, 1, 1, 1, 1];
        PanelCounts oneCluster = new(times, [1, 0, 2, 3, 1, 1], n, default, [0, 0]), onlyFirst = new(times, [1, 0, 0, 3, 0, 0], n);
        Assert.Null(TwoWaySandwich.Of(oneCluster, TrendFit.Of(oneCluster)));
        Assert.Null(TwoWaySandwich.Of(onlyFirst, TrendFit.Of(onlyFirst)));
    }
}
