using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// Dispersion about the trend and the trend without each cluster, against R's stats::glm (quasi-Poisson dispersion; one fit a
/// cluster left out). Script and sources: tests/reference/influence.
/// </summary>
public class InfluenceReferenceTests
{
    public static TheoryData<string> Dispersed => Tables("influence/dispersion.csv");

    public static TheoryData<string> LeftOut => Tables("influence/left_out.csv");

    private static TheoryData<string> Tables(string name) => new(ReferenceTable.Read(name).Rows.Select(row => row["data"]).Distinct());

    [Theory]
    [MemberData(nameof(Dispersed))]
    public void Dispersion_about_the_trend_is_that_of_the_quasi_poisson_fit(string cells)
    {
        var (panel, _) = ReferenceTable.Panel(ReferenceTable.Read(cells).Rows);
        var dispersion = TrendDispersion.Of(panel, TrendFit.Of(panel).Value);
        var expected = ReferenceTable.Read("influence/dispersion.csv").Rows.Where(r => r["data"] == cells).ToDictionary(r => r["quantity"], r => r.Number("value"));
        Assert.Equal(expected["df"], dispersion.DegreesOfFreedom);
        Near.Relative(expected["chi_square"], dispersion.ChiSquare, Near.Estimate, cells);
        Near.Relative(expected["dispersion"], dispersion.Value!.Value, Near.Estimate, cells);
    }

    [Theory]
    [MemberData(nameof(LeftOut))]
    public void Slope_without_each_cluster_is_that_of_a_fit_without_it(string cells)
    {
        var rows = ReferenceTable.Read(cells).Rows.ToArray();
        var (panel, _) = ReferenceTable.Panel(rows);
        string[] clusters = [.. rows.Select(r => r["cluster"]).Distinct()];
        double[] without = TrendFit.DeleteOne(panel, TrendFit.Of(panel));
        var expected = ReferenceTable.Read("influence/left_out.csv").Rows.Where(r => r["data"] == cells).ToArray();
        Assert.InRange(expected.Length, 3, clusters.Length);
        Assert.All(expected, row => Near.Relative(row.Number("slope"), without[Array.IndexOf(clusters, row["cluster"])], Near.Estimate, row));
    }

    [Fact]
    public void Slope_with_units_alike_is_that_of_a_fit_with_their_totals_in_the_weights()
    {
        ReferenceRow[] rows = [.. ReferenceTable.Read("influence/equal_stations.csv").Rows];
        Assert.Equal(5, rows.Length);
        Assert.All(rows, row => Near.Relative(row.Number("slope"), EqualUnits.Slope(ReferenceTable.Panel(ReferenceTable.Read(row["data"]).Rows).Panel).Value, Near.Estimate, row));
    }

    [Fact]
    public void Units_alike_do_not_follow_the_loud_one()
    {
        // A loud unit that falls by half and two quiet ones that double: alike, they go up.
        var panel = new PanelCounts([1, 2], [60, 30, 1, 2, 1, 2, 0, 0], [1, 1, 1, 1, 1, 1, 1, 1]);
        Assert.True(TrendFit.Of(panel).Value < 0);
        // Shares of the second period: 1/3, 2/3, 2/3; their mean is 5/9, a ratio of 5 to 4.
        Assert.Equal(Math.Log(1.25), EqualUnits.Slope(panel).Value, 1e-12);
    }

    [Fact]
    public void Dispersion_of_one_cell_a_unit_has_nothing_to_judge_by()
    {
        var panel = new PanelCounts([1, 2], [3, 0, 0, 5], [1, 0, 0, 1]);
        var dispersion = TrendDispersion.Of(panel, 0.3);
        Assert.Equal((0, -1), (dispersion.ChiSquare, dispersion.DegreesOfFreedom));
        Assert.Null(dispersion.Value);
    }

    [Fact]
    public void Silent_cells_are_counted_with_the_others()
    {
        var panel = new PanelCounts([1, 2, 3], [3, 0, 0, 0, 0, 5], [1, 2, 0, 1, 1, 1]);
        Assert.Equal((5, 3), panel.CountCells());
    }
}
