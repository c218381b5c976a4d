using System.Globalization;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The engine refits the 199 resamples that R's boot drew (boot 1.3-28.1, tests/reference/bootstrap/make_resamples.R) from the
/// committed multiplicities and must come to the same draws and intervals as glm and boot.
/// </summary>
public class ResampledReferenceTests
{
    private const double Confidence = 0.95;
    private static readonly double[] Ends = [0.025, 0.975];

    private readonly PanelCounts _panel;
    private readonly bool[] _baseline;
    private readonly int[][] _multiplicities;
    private readonly double[] _slopes, _indices;

    public ResampledReferenceTests()
    {
        (_panel, double[] seasons) = ReferenceTable.Panel(ReferenceTable.Read("simulated_a/cells.csv").Rows);
        _baseline = [.. seasons.Select((_, t) => t < 3)];
        // The panel numbers clusters in order of appearance, which in this table is 1, 2, 3, ...
        _multiplicities = [.. ReferenceTable.Read("bootstrap/multiplicities.csv").Rows
            .Select(r => Enumerable.Range(1, _panel.ClusterCount).Select(w => (int)r.Number($"w{w}")).ToArray())];
        var fits = _multiplicities.Select(Refit).ToArray();
        _slopes = [.. fits.Select(f => f.Slope)];
        _indices = [.. fits.Select(f => f.Index)];
    }

    [Fact]
    public void Refits_agree_with_glm_draw_by_draw()
    {
        var rows = ReferenceTable.Read("bootstrap/draws.csv").Rows.ToArray();
        Assert.Equal(rows.Length, _multiplicities.Length);
        foreach (var row in rows)
        {
            int b = int.Parse(row["resample"], CultureInfo.InvariantCulture) - 1;
            Near.Relative(row.Number("slope"), _slopes[b], Near.Estimate, $"slope of {row}");
            Near.Relative(row.Number("index"), _indices[b], Near.Estimate, $"index of {row}");
        }
    }

    [Theory]
    [InlineData(1e-6, 1e-5)]
    [InlineData(1e-13, 1e-9)]
    public void Hot_loop_refits_agree_with_glm_as_far_as_they_promise(double tolerance, double allowed)
    {
        // As an analysis refits: from the sample's own slope and effects, in one workspace. The first line is the default
        // tolerance, an error aimed at over the whole span and right to a factor of ten; a ten-thousandth of the bootstrap
        // standard error. Asked for more, the same path comes to glm's digits.
        var sample = new Resample(_panel);
        var trend = new TrendFit(_panel.Periods);
        var expansion = new TrendExpansion(_panel, _panel.Periods, TrendFit.Of(_panel).Value);
        double[] start = PeriodFit.Of(_panel, _baseline).Effects.ToArray();
        var annual = new PeriodFit(_panel);
        double span = _panel.Times[^1] - _panel.Times[0];
        foreach (var row in ReferenceTable.Read("bootstrap/draws.csv").Rows)
        {
            sample.Fill(_multiplicities[int.Parse(row["resample"], CultureInfo.InvariantCulture) - 1]);
            Assert.Equal(row.Number("slope") * span, trend.Refit(sample, expansion, tolerance).Value * span, allowed);
            Assert.True(annual.Fit(sample, _baseline, start, Math.Min(tolerance, 1e-7)));
            Near.Relative(row.Number("index"), IndexOfLast(annual), Math.Min(allowed, 1e-7), $"index of {row}");
        }
    }

    [Theory]
    [InlineData("slope")]
    [InlineData("index")]
    public void Intervals_agree_with_boot(string term)
    {
        int clusters = _panel.InformativeClusters(_panel.Periods);
        double[] Of(IEnumerable<(double Slope, double Index)> fits) => [.. fits.Select(f => term == "slope" ? f.Slope : f.Index)];
        double estimate = Of([Refit([.. Enumerable.Repeat(1, _panel.ClusterCount)])])[0];
        double[] without = Of(Enumerable.Range(0, _panel.ClusterCount).Select(c => Refit([.. Enumerable.Range(0, _panel.ClusterCount).Select(k => k == c ? 0 : 1)])));
        double[] draws = [.. (term == "slope" ? _slopes : _indices).Order()];
        double a = Jackknife.Acceleration(without);
        double z0 = BootstrapInterval.BiasCorrection((double)draws.Count(d => d < estimate) / draws.Length);
        var percentile = BootstrapInterval.Percentile(draws, Confidence);
        var bca = BootstrapInterval.Bca(draws, estimate, a, Confidence)!.Value;
        var student = Jackknife.StudentT(estimate, without, clusters, Confidence);
        double stretch = BootstrapInterval.Stretch(clusters, Confidence);
        double[] stretched = [.. draws.Select(d => term == "slope"
            ? BootstrapInterval.Stretched(estimate, d, stretch)
            : Math.Exp(BootstrapInterval.Stretched(Math.Log(estimate), Math.Log(d), stretch))).Order()];
        var observed = BootstrapInterval.Percentile(stretched, Confidence);

        foreach (var row in ReferenceTable.Read("bootstrap/intervals.csv").Rows.Where(r => r["term"] == term || r["term"].Length == 0))
        {
            double actual = row["quantity"] switch
            {
                "clusters" => clusters,
                "stretch" => stretch,
                "estimate" => estimate,
                "standard_error_jackknife" => Jackknife.StandardError(without),
                "acceleration_jackknife" => a,
                "z0" => z0,
                "percentile" or "boot_percentile" => End(row, percentile),
                "bca_level" => BootstrapInterval.BcaLevel(z0, a, row.Number("level")),
                "bca" => End(row, bca),
                "jackknife_t" => End(row, student),
                "stretched" => End(row, observed),
                "share_of_stretched_draws_below_zero" => (double)stretched.Count(d => d < 0) / stretched.Length,
                // boot interpolates BCa between draws on the normal scale, the engine linearly: the same gap, another point in it.
                "boot_bca" => SameGap(draws, End(row, bca), row.Number("value")) ? row.Number("value") : double.NaN,
                var other when other.StartsWith("without_w", StringComparison.Ordinal) => without[int.Parse(other[9..], CultureInfo.InvariantCulture) - 1],
                var other => throw new InvalidOperationException($"nothing checks {other}"),
            };
            Near.Relative(row.Number("value"), actual, Near.Estimate, row);
        }
    }

    private (double Slope, double Index) Refit(int[] multiplicities)
    {
        var sample = new Resample(_panel);
        sample.Fill(multiplicities);
        var slope = new TrendFit(_panel.Periods).Fit(sample, _panel.Periods, 0, 1e-13);
        Assert.Equal(SlopeStatus.Finite, slope.Status);
        var annual = new PeriodFit(_panel);
        Assert.True(annual.Fit(sample, _baseline, default, 1e-13));
        return (slope.Value, IndexOfLast(annual));
    }

    private double IndexOfLast(PeriodFit annual)
    {
        double[] limits = FitReferenceTests.Limits(annual, _panel.Periods);
        return 100 * limits[^1] / limits.Where((_, t) => _baseline[t]).Average();
    }

    private static double End(ReferenceRow row, Interval interval)
    {
        Assert.Contains(row.Number("level"), Ends);
        return row.Number("level") < 0.5 ? interval.Lower : interval.Upper;
    }

    private static bool SameGap(double[] sorted, double one, double other)
    {
        // The extreme draw itself, or strictly between the same two neighbours; 1e-12 for rounding in the draws.
        int Rank(double value) => sorted.Count(d => d < value - 1e-9 * Math.Abs(value));
        return Rank(one) == Rank(other);
    }
}
