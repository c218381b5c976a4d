using Indicators.Statistics.Intervals;
using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>
/// Occupancy against R: an independent likelihood (a sum over every course of states) with an independent optimiser, a tally
/// of real salamanders, and closed forms. Scripts lie beside the tables in tests/reference/occupancy_*.
/// </summary>
public class OccupancyReferenceTests
{
    [Theory]
    [InlineData("occupancy_single", "constant")]
    [InlineData("occupancy_single", "covariates")]
    [InlineData("occupancy_multi", "shared")]
    [InlineData("occupancy_multi", "by_interval")]
    public void Estimates_errors_and_likelihood_agree_with_an_independent_optimiser(string folder, string name)
    {
        var (histories, groups) = OccupancyTables.Case(folder, name);
        var fit = OccupancyTables.Fit(histories, groups);
        Assert.Equal(OccupancyStatus.Interior, fit.Status);
        var rows = ReferenceTable.Read($"{folder}/fit.csv").Rows.Where(r => r["case"] == name).ToArray();
        Assert.Equal(2 * fit.Layout.Count + 1 + 4 * histories.Seasons, rows.Length);
        foreach (var row in rows)
        {
            int index = (int)row.Number("index");
            string kind = row["kind"];
            (double actual, double tolerance) = (kind, row["quantity"]) switch
            {
                ("all", "log_likelihood") => (fit.LogLikelihood, 1e-9),
                ("occupancy", "estimate") => (fit.Occupancy(index)!.Value.Value, Near.Estimate),
                ("occupancy", "se") => (fit.Occupancy(index)!.Value.StandardError!.Value, Near.StandardError),
                ("occupancy", "lower") => (fit.Occupancy(index)!.Value.Interval!.Value.Lower, Near.StandardError),
                ("occupancy", "upper") => (fit.Occupancy(index)!.Value.Interval!.Value.Upper, Near.StandardError),
                (_, "estimate") => (Parameter().Estimate!.Value, Near.Estimate),
                (_, "se") => (Parameter().StandardError!.Value, Near.StandardError),
                var other => throw new InvalidOperationException($"nothing checks {other}"),
            };
            Near.Relative(row.Number("value"), actual, tolerance, $"{name}: {row}");

            OccupancyParameter Parameter()
            {
                var parameter = fit.Parameters[OccupancyTables.PlaceOf(fit.Layout, kind, index)];
                Assert.Equal((kind.Replace("_", "", StringComparison.Ordinal), index), (parameter.Kind.ToString().ToLowerInvariant(), parameter.Index));
                return parameter;
            }
        }
    }

    [Theory]
    [InlineData("occupancy_single")]
    [InlineData("occupancy_multi")]
    public void Profile_intervals_agree_with_a_root_of_an_independent_profile(string folder)
    {
        foreach (var row in ReferenceTable.Read($"{folder}/profile.csv").Rows)
        {
            var (histories, groups) = OccupancyTables.Case(folder, row["case"]);
            var fit = OccupancyTables.Fit(histories, groups);
            var interval = ProfileInterval.Of(histories, fit, (int)row.Number("place"))!.Value;
            // R's inner search and root each stop at nine digits or so.
            Near.Relative(row.Number("lower"), interval.Lower, 1e-8, row);
            Near.Relative(row.Number("upper"), interval.Upper, 1e-8, row);
        }
    }

    [Theory]
    [InlineData("shared")]
    [InlineData("by_interval")]
    public void Forward_probabilities_agree_with_enumeration(string name)
    {
        var (histories, groups) = OccupancyTables.Case("occupancy_multi", name);
        double[,] chances = MultiSeasonOccupancy.ChancesPresent(histories, MultiSeasonOccupancy.Fit(histories, groups))!;
        var rows = ReferenceTable.Read("occupancy_multi/filtered.csv").Rows.Where(r => r["case"] == name).ToArray();
        Assert.Equal(40 * histories.Seasons, rows.Length);
        foreach (var row in rows)
            Near.Relative(row.Number("chance"), chances[(int)row.Number("site"), (int)row.Number("season")], Near.Estimate, row);
    }

    [Fact]
    public void Constant_model_agrees_with_its_closed_form()
    {
        foreach (var row in ReferenceTable.Read("occupancy_closed/constant.csv").Rows)
        {
            int n = (int)row.Number("n"), visits = (int)row.Number("K"), sites = (int)row.Number("sites_detected"), detections = (int)row.Number("detections");
            var histories = DetectionHistories.FromTable(n, Spread(n, visits, sites, detections));
            var fit = SingleSeasonOccupancy.Fit(histories);
            Near.Relative(row.Number("log_likelihood"), fit.LogLikelihood, 1e-9, row);
            Near.Relative(row.Number("psi"), fit.Occupancy(0)!.Value.Value, Near.Estimate, row);
            Near.Relative(row.Number("p"), fit.Detection(0)!.Value.Value, Near.Estimate, row);
            if (row["status"] == "interior")
            {
                Assert.Equal(OccupancyStatus.Interior, fit.Status);
                Near.Relative(row.Number("se_psi"), fit.Occupancy(0)!.Value.StandardError!.Value, Near.Estimate, row);
                Near.Relative(row.Number("se_p"), fit.Detection(0)!.Value.StandardError!.Value, Near.Estimate, row);
                continue;
            }
            bool psiOne = row["status"] == "psi_one";
            Assert.Equal(OccupancyStatus.Boundary, fit.Status);
            Assert.Equal(EstimateStatus.AtOne, fit.Parameters[psiOne ? 0 : 1].Status);
            Assert.Equal(1, psiOne ? fit.Occupancy(0)!.Value.Value : fit.Detection(0)!.Value.Value);
            Assert.Null(fit.Occupancy(0)!.Value.Interval);
            Assert.Null(fit.Occupancy(0)!.Value.StandardError);
        }
    }

    [Fact]
    public void Occupancy_by_hand_is_nine_sixteenths()
    {
        // 40 sites, 2 visits, 10 sites with both and 10 with one detection: p = 2·10/(2·10 + 10), ψ = (20/40)/(1 − (1/3)²).
        var fit = SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(40, Spread(40, 2, 20, 30)));
        Assert.Equal(2.0 / 3, fit.Detection(0)!.Value.Value, 1e-13);
        Assert.Equal(9.0 / 16, fit.Occupancy(0)!.Value.Value, 1e-13);
    }

    [Fact]
    public void Real_salamanders_agree_with_an_independent_optimiser()
    {
        var fits = ReferenceTable.Read("occupancy_salamanders/fit.csv").Rows.GroupBy(r => (Category: r["category"], Model: r["model"])).ToArray();
        Assert.Equal(14, fits.Length);
        int separated = 0;
        foreach (var expected in fits)
        {
            var values = expected.ToDictionary(r => r["quantity"], r => r.Number("value"));
            var tally = ReferenceTable.Read("occupancy_salamanders/tally.csv").Rows.Where(r => r["category"] == expected.Key.Category).ToArray();
            Assert.Equal(23, tally.Sum(r => r.Number("sites")));
            bool split = expected.Key.Model == "mined";
            var visits = new List<Visit>();
            var mined = new List<double>();
            foreach (var row in tally)
            {
                for (int s = 0; s < row.Number("sites"); s++)
                {
                    visits.AddRange(Enumerable.Range(0, 4).Select(v => new Visit(mined.Count, 0, v < row.Number("visits"))));
                    mined.Add(row.Number("mined"));
                }
            }
            var fit = SingleSeasonOccupancy.Fit(new DetectionHistories(23, 1, visits.ToArray(), siteCovariates: split ? mined.ToArray() : []));
            Near.Relative(values["log_likelihood"], fit.LogLikelihood, 1e-9, expected.Key);
            if (split && values["psi_unmined"] == 1)
            {
                // Found at, or as good as at, every unmined site: the effect of mining has no finite estimate.
                Assert.Equal(OccupancyStatus.Separated, fit.Status);
                Assert.Null(fit.Occupancy(0));
                separated++;
                continue;
            }
            Assert.Equal(OccupancyStatus.Interior, fit.Status);
            double intercept = fit.Parameters[0].Estimate!.Value;
            Near.Relative(values[split ? "psi_unmined" : "psi"], Of(intercept), Near.Estimate, expected.Key);
            Near.Relative(values["p"], fit.Detection(0)!.Value.Value, Near.Estimate, expected.Key);
            Near.Relative(values[split ? "logit_se_psi_unmined" : "logit_se_psi"], fit.Parameters[0].StandardError!.Value, Near.StandardError, expected.Key);
            Near.Relative(values["logit_se_p"], fit.Parameters[fit.Layout.FirstDetection].StandardError!.Value, Near.StandardError, expected.Key);
            if (!split)
                continue;
            Near.Relative(values["psi_mined"], Of(intercept + fit.Parameters[1].Estimate!.Value), Near.Estimate, expected.Key);
            double variance = fit.Covariance(0, 0) + 2 * fit.Covariance(0, 1) + fit.Covariance(1, 1);
            Near.Relative(values["logit_se_psi_mined"], Math.Sqrt(variance), Near.StandardError, expected.Key);
        }
        Assert.Equal(3, separated);

        static double Of(double logit) => 1 / (1 + Math.Exp(-logit));
    }

    [Fact]
    public void Visits_to_infer_absence_agree_with_the_formula()
    {
        foreach (var row in ReferenceTable.Read("occupancy_closed/visits.csv").Rows)
        {
            var needed = Absence.VisitsFor(row.Number("p"), row.Number("alpha"))!.Value;
            Near.Relative(row.Number("exact"), needed.Exact, 1e-12, row);
            Assert.Equal((int)row.Number("whole"), needed.Whole);
        }
    }

    [Fact]
    public void Chance_of_presence_after_silence_agrees_with_the_formula()
    {
        foreach (var row in ReferenceTable.Read("occupancy_closed/presence.csv").Rows)
        {
            double[] p = [.. Enumerable.Repeat(row.Number("p"), (int)row.Number("k"))];
            Near.Relative(row.Number("chance"), Absence.ChancePresent(row.Number("psi"), p), 1e-12, row);
        }
        Assert.Equal(0.255398361876, Absence.ChancePresent(0.5, [0.3, 0.3, 0.3]), 5e-13);
    }

    [Fact]
    public void Chance_of_silence_agrees_with_enumeration()
    {
        foreach (var row in ReferenceTable.Read("occupancy_closed/silence.csv").Rows)
        {
            int k = (int)row.Number("detections"), with = (int)row.Number("with"), silent = (int)row.Number("silent");
            double[] odds = [.. row["odds"].Split(' ').Select(o => double.Parse(o, System.Globalization.CultureInfo.InvariantCulture))];
            Near.Relative(row.Number("chance"), SilenceByChance.Of(k, odds.AsSpan(0, with), odds.AsSpan(with)), 1e-12, row);
            if (odds.All(o => o == 1))
                Near.Relative(row.Number("chance"), SilenceByChance.Of(k, with, silent), 1e-12, row);
        }
    }

    /// <summary>Detections dealt out so that every detected site has at least one and none more than there are visits.</summary>
    private static double[] Spread(int n, int visits, int sites, int detections)
    {
        var table = new double[n * visits];
        for (int d = 0; d < detections; d++)
            table[d % sites * visits + d / sites] = 1;
        return table;
    }
}
