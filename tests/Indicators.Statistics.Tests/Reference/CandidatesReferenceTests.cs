using Indicators.Benchmarks.Coverage;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The intervals that the coverage study compares with the engine's, against R's full matrices (reference/candidates).
/// </summary>
public class CandidatesReferenceTests
{
    private static readonly ReferenceRow[] Expected = [.. ReferenceTable.Read("candidates/quantities.csv").Rows];
    private static readonly PanelCounts Panel = Unweighted();
    private static readonly Slope Slope = TrendFit.Of(Panel);
    private static readonly Candidates Candidates = new(Panel, Slope);

    private static PanelCounts Unweighted()
    {
        var (panel, seasons) = ReferenceTable.Panel(ReferenceTable.Read("simulated_a/cells.csv").Rows);
        int[] units = [.. Enumerable.Range(0, panel.Units)];
        return new PanelCounts(
            seasons,
            [.. units.SelectMany(s => Enumerable.Range(0, panel.Periods).Select(t => panel.Count(s, t)))],
            [.. units.SelectMany(s => Enumerable.Range(0, panel.Periods).Select(t => panel.Exposure(s, t)))],
            default,
            [.. units.Select(panel.ClusterOf)]);
    }

    private static double Of(string quantity) => Expected.Single(row => row["quantity"] == quantity).Number("value");

    private static double[] Weights() =>
        [.. ReferenceTable.Read("candidates/weights.csv").Rows.SelectMany(row => Enumerable.Range(1, Candidates.Clusters).Select(c => row.Number($"c{c}")))];

    [Fact]
    public void Clusters_and_slope_agree_with_R()
    {
        Assert.Equal(Of("clusters"), Candidates.Clusters);
        Near.Relative(Of("slope"), Slope.Value, Near.Estimate, "slope");
    }

    [Fact]
    public void Sandwich_errors_and_freedom_agree_with_full_matrices()
    {
        Near.Relative(Of("cr1_error"), Candidates.Cr1Error(), Near.StandardError, "CR1");
        var (error, freedom) = Candidates.Cr2Error();
        Near.Relative(Of("cr2_error"), error, Near.StandardError, "CR2");
        Near.Relative(Of("cr2_freedom"), freedom, Near.StandardError, "CR2's degrees of freedom");
    }

    [Fact]
    public void Studentised_bootstrap_agrees_with_R()
    {
        int[][] multiplicities = [.. ReferenceTable.Read("bootstrap/multiplicities.csv").Rows
            .Select(row => Enumerable.Range(1, Panel.ClusterCount).Select(c => (int)row.Number($"w{c}")).ToArray())];
        var sample = new Resample(Panel);
        var fit = new TrendFit(Panel.Periods);
        double[] draws = [.. multiplicities.Select(times =>
        {
            sample.Fill(times);
            return fit.Fit(sample, Panel.Periods, Slope.Value, 1e-12).Value;
        })];

        var interval = Candidates.Studentised(draws, (b, times) => multiplicities[b].CopyTo(times, 0), 0.95);

        Near.Relative(Of("studentised_lower"), interval.Lower, Near.StandardError, "lower end");
        Near.Relative(Of("studentised_upper"), interval.Upper, Near.StandardError, "upper end");
    }

    [Fact]
    public void Wild_bootstraps_p_values_agree_with_R()
    {
        double[] weights = Weights();
        var rows = Expected.Where(row => row["quantity"] == "wild_p").ToList();
        Assert.Equal(6, rows.Count);
        Assert.All(rows, row => Assert.Equal(row.Number("value"), Candidates.WildP(row.Number("at"), weights), 12));
    }

    [Fact]
    public void Wild_interval_ends_where_its_p_value_crosses_the_level()
    {
        double[] weights = Weights();
        var interval = Candidates.Wild(weights, 0.95);
        double hair = 0.01 * Candidates.Cr1Error();

        Assert.True(Candidates.WildP(interval.Lower + hair, weights) > 0.05 && Candidates.WildP(interval.Lower - hair, weights) <= 0.05);
        Assert.True(Candidates.WildP(interval.Upper - hair, weights) > 0.05 && Candidates.WildP(interval.Upper + hair, weights) <= 0.05);
    }
}
