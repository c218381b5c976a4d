using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Adjusted;

/// <summary>
/// Against tests/reference/adjusted: R's glm with unit dummies on lme4's grouseticks (Elston et al. 2001), chick by chick, and on a
/// simulated programme, whole and resampled.
/// </summary>
public class AdjustedReferenceTests
{
    private static readonly string[] Simulated = ["day", "day2", "temperature", "wind", "newcomer", "height", "mixture"];

    internal static (VisitData Data, string[] Names) Case(string name)
    {
        if (name is "simulated" or "resampled")
            return (VisitData.From(
                ReferenceTable.Read("adjusted/visits.csv").Rows, r => r["unit"], r => r.Number("season"), "y",
                r => [.. Simulated.Select(c => VisitData.Number(r, c))], r => r.Number("weight"), r => (int)r.Number("cluster")), Simulated);
        var chicks = ReferenceTable.Read("adjusted/grouseticks.csv").Rows.ToArray();
        var size = chicks.GroupBy(r => r["brood"]).ToDictionary(g => g.Key, g => (double)g.Count());
        return name == "location"
            ? (VisitData.From(chicks, r => r["location"], r => r.Number("year"), "ticks",
                r => [r.Number("height"), size[r["brood"]]], _ => 1, null), ["height", "size"])
            : (VisitData.From(chicks, r => $"{Math.Floor(r.Number("height") / 50)}", r => r.Number("year"), "ticks",
                r => [r.Number("height"), Math.Pow(r.Number("height") - 450, 2), size[r["brood"]]], _ => 1, null), ["height", "height2", "size"]);
    }

    [Theory]
    [InlineData("location", 17)]
    [InlineData("band", 27)]
    [InlineData("simulated", 59)]
    [InlineData("resampled", 59)]
    public void Trend_and_annual_models_with_covariates_agree_with_glm(string name, int expectedRows)
    {
        var (data, names) = Case(name);
        var visits = data.ToVisits();
        var sample = new Resample(visits.Panel);
        AdjustedStart? trendStart = null, annualStart = null;
        bool[] reference = [.. data.Seasons.Select((_, t) => t < 3)];
        if (name == "resampled")
        {
            // As a bootstrap refit: warm from the sample's own fit.
            trendStart = AdjustedFit.Of(visits, AdjustedModel.Trend).ToStart();
            annualStart = AdjustedFit.Of(visits, AdjustedModel.Annual, reference).ToStart();
            sample.Fill([.. ReferenceTable.Read("adjusted/multiplicities.csv").Rows.Select(r => (int)r.Number("multiplicity"))]);
        }
        AdjustedFit trend = new(visits, AdjustedModel.Trend), annual = new(visits, AdjustedModel.Annual);
        Assert.Equal(AdjustedStatus.Finite, trend.Fit(sample, default, trendStart, 1e-12));
        Assert.Equal(AdjustedStatus.Finite, annual.Fit(sample, reference, annualStart, 1e-12));

        var rows = ReferenceTable.Read("adjusted/expected.csv").Rows.Where(r => r["case"] == name).ToArray();
        Assert.Equal(expectedRows, rows.Length);
        double[,] trendCovariance = trend.ModelCovariance(sample), annualCovariance = annual.ModelCovariance(sample);
        foreach (var row in rows)
        {
            var (fit, covariance) = row["model"] == "trend" ? (trend, trendCovariance) : (annual, annualCovariance);
            int j = Array.IndexOf(names, row["term"]), at = j < 0 ? -1 : fit.IndexOf(j);
            int t = row["model"] == "annual" && j < 0 && row["term"].Length > 0 ? Array.IndexOf(data.Seasons, row.Number("term")) : -1;
            (double actual, double tolerance) = row["quantity"] switch
            {
                "estimable" => (fit.IsEstimable(j) ? 1 : 0, 0),
                "conditional_log_likelihood" => (fit.LogLikelihood(sample), Near.Estimate),
                "estimate" when row["term"] == "slope" => (fit.Slope, Near.Estimate),
                "se" when row["term"] == "slope" => (Math.Sqrt(covariance[0, 0]), Near.StandardError),
                "estimate" => (fit.Coefficients[j], Near.Estimate),
                "se" when j >= 0 => (Math.Sqrt(covariance[at, at]), Near.StandardError),
                "covariance_with_slope" => (covariance[0, at], Near.StandardError),
                "log_ratio_to_first" => (fit.Effects[t] - fit.Effects[0], Near.Estimate),
                "se" => (Math.Sqrt(covariance[t, t] + covariance[0, 0] - 2 * covariance[t, 0]), Near.StandardError),
                var other => throw new InvalidOperationException($"nothing checks {other}"),
            };
            Near.Relative(row.Number("value"), actual, tolerance, $"{row}");
        }
    }

    [Fact]
    public void Missing_values_are_counted_and_scales_kept()
    {
        var visits = Case("simulated").Data.ToVisits();
        Assert.Equal([0, 0, 60, 25, 0, 0, 0], visits.Covariates.Select(c => c.Missing));
        var wind = ReferenceTable.Read("adjusted/visits.csv").Rows.Select(r => VisitData.Number(r, "wind")).Where(x => !double.IsNaN(x)).ToArray();
        Assert.Equal(wind.Average(), visits.Covariates[3].Mean, 1e-12);
        Assert.Equal(Math.Sqrt(wind.Average(x => x * x) - wind.Average() * wind.Average()), visits.Covariates[3].StandardDeviation, 1e-12);
    }

    [Fact]
    public void Without_covariates_the_raw_models_come_back()
    {
        var (data, _) = Case("simulated");
        var panel = data.ToPanel();
        var visits = new VisitPanel(panel, data.Units, data.Periods, data.Counts, default, 0);
        Assert.Equal(TrendFit.Of(panel).Value, AdjustedFit.Of(visits, AdjustedModel.Trend).Slope, 1e-12);
        bool[] reference = [.. data.Seasons.Select((_, t) => t < 3)];
        var raw = PeriodFit.Of(panel, reference);
        var adjusted = AdjustedFit.Of(visits, AdjustedModel.Annual, reference);
        for (int t = 1; t < data.Seasons.Length; t++)
            Assert.Equal(raw.Effects[t] - raw.Effects[0], adjusted.Effects[t] - adjusted.Effects[0], 1e-11);
    }
}
