using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// Both models against R's stats::glm (R 4.2.2, epsilon 1e-14, stations as factors) on every pair of cells and fit tables in
/// tests/reference: ships, salamanders, grouseticks and two simulated programmes. Scripts and sources lie beside the tables.
/// </summary>
public class FitReferenceTests
{
    /// <summary>Every table of cells that has a table of fits beside it, found by looking.</summary>
    public static TheoryData<string> Cells =>
        new(ReferenceFilesTests.All().Where(f => f.EndsWith("cells.csv", StringComparison.Ordinal) && ReferenceFilesTests.All().Contains(FitsOf(f))));

    internal static string FitsOf(string cells) => cells.Replace("cells.csv", "fit.csv", StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Cells))]
    public void Trend_and_annual_models_agree_with_glm(string cells)
    {
        var (panel, seasons) = ReferenceTable.Panel(ReferenceTable.Read(cells).Rows);
        var slope = TrendFit.Of(panel);
        bool[] baseline = [.. seasons.Select((_, t) => t < 3)];
        var sample = new Resample(panel);
        var annual = new PeriodFit(panel);
        Assert.True(annual.Fit(sample, baseline, default, 1e-13));
        double[] limits = Limits(annual, seasons.Length), log = [.. limits.Select(x => Math.Log(x))];
        var covariance = annual.ModelCovariance(sample);
        double mean = limits.Where((_, t) => baseline[t]).Average();

        foreach (var row in ReferenceTable.Read(FitsOf(cells)).Rows)
        {
            int t = row["model"] is "annual" or "closed_form" && row["term"].Length > 0 ? Array.IndexOf(seasons, row.Number("term")) : -1;
            (double actual, double tolerance) = (row["model"], row["quantity"]) switch
            {
                ("trend", "estimate") => (slope.Value, Near.Estimate),
                ("trend", "percent_per_season") => (100 * (Math.Exp(slope.Value) - 1), Near.Estimate),
                ("trend", "se") => (slope.ModelStandardError, Near.StandardError),
                ("trend", "conditional_log_likelihood") => (LogLikelihood(panel, [.. seasons.Select(s => slope.Value * (s - seasons[0]))]), Near.Estimate),
                ("annual" or "closed_form", "log_ratio_to_first") => (log[t] - log[0], Near.Estimate),
                ("annual", "index") => (100 * limits[t] / mean, Near.Estimate),
                ("annual", "se") => (Math.Sqrt(covariance[t, t] + covariance[0, 0] - 2 * covariance[t, 0]), Near.StandardError),
                ("annual", "conditional_log_likelihood") => (LogLikelihood(panel, log), Near.Estimate),
                ("data", "informative_clusters") => (panel.InformativeClusters(panel.Periods), 0),
                var other => throw new InvalidOperationException($"{cells}: nothing checks {other}"),
            };
            Near.Relative(row.Number("value"), actual, tolerance, $"{cells}: {row}");
        }
    }

    [Fact]
    public void Published_conditional_likelihood_of_the_ships_is_reached()
    {
        // Year + period of operation given ship type, the published fixed-effects example. Its effects are put in, and the
        // likelihood function of both models must give the published log-likelihood, -54.641859 (a statistics package's manual).
        var values = ReferenceTable.Read("ships/conditional.csv").Rows.ToDictionary(r => $"{r["term"]}{r["quantity"]}", r => r.Number("value"));
        var rows = ReferenceTable.Read("ships/rows.csv").Rows.Where(r => r.Number("service") > 0).ToArray();
        string[] types = [.. rows.Select(r => r["type"]).Distinct()];
        string[] columns = [.. rows.Select(r => $"{r["year"]} {r["period"]}").Distinct().Order(StringComparer.Ordinal)];
        double[] y = new double[types.Length * columns.Length], n = new double[y.Length], eta = new double[y.Length];
        for (int i = 0; i < eta.Length; i++)
        {
            string[] column = columns[i % columns.Length].Split(' ');
            eta[i] = values.GetValueOrDefault($"year{column[0]}log_effect") + values.GetValueOrDefault($"period{column[1]}log_effect");
        }
        foreach (var row in rows)
        {
            int i = Array.IndexOf(types, row["type"]) * columns.Length + Array.IndexOf(columns, $"{row["year"]} {row["period"]}");
            (y[i], n[i]) = (row.Number("incidents"), row.Number("service"));
        }
        var panel = new PanelCounts([.. columns.Select((_, t) => (double)t)], y, n);

        double actual = ConditionalPoisson.LogLikelihood(panel, eta);
        Assert.Equal(34, rows.Length);
        Assert.Equal(values["published_conditional_log_likelihood"], actual, 5e-7);
        Near.Relative(values["conditional_log_likelihood"], actual, Near.Estimate, "ships, year + period");

        // It is the maximum: the curvature there gives the published Wald test of all four effects, and a step either way loses.
        string[] terms = ["year65", "year70", "year75", "period75"];
        Assert.All(terms, term => Near.Relative(values[$"{term}incidence_rate_ratio"], Math.Exp(values[$"{term}log_effect"]), Near.Estimate, term));
        Assert.All(terms, term => Assert.All(new[] { -1e-3, 1e-3 }, step => Assert.True(At(term, step) < actual)));
        double wald = 0;
        foreach (string a in terms)
            foreach (string b in terms)
                wald -= values[$"{a}log_effect"] * values[$"{b}log_effect"] * Curvature(a, b);
        Near.Relative(values["wald_chi2_4df"], wald, 1e-5, "Wald chi-square, second differences");
        Assert.Equal(values["published_wald_chi2_4df"], wald, 5e-3);

        double At(string term, double step, string? other = null, double otherStep = 0) =>
            ConditionalPoisson.LogLikelihood(panel, [.. eta.Select((v, i) => v + (Has(term, i) ? step : 0) + (other is not null && Has(other, i) ? otherStep : 0))]);
        bool Has(string term, int i)
        {
            string[] column = columns[i % columns.Length].Split(' ');
            return term == $"year{column[0]}" || term == $"period{column[1]}";
        }
        double Curvature(string a, string b)
        {
            const double h = 1e-3;
            return (At(a, h, b, h) - At(a, h, b, -h) - At(a, -h, b, h) + At(a, -h, b, -h)) / (4 * h * h);
        }
    }

    /// <summary>e^γ of every season up to a common factor, 0 where forced to zero; all seasons must be comparable.</summary>
    internal static double[] Limits(PeriodFit fit, int periods) => [.. Enumerable.Range(0, periods).Select(t => fit.StatusOf(t) switch
    {
        PeriodStatus.Linked => Math.Exp(fit.Effects[t]),
        PeriodStatus.ForcedToZero => 0,
        _ => double.NaN,
    })];

    private static double LogLikelihood(PanelCounts panel, double[] effects) =>
        ConditionalPoisson.LogLikelihood(panel, [.. Enumerable.Range(0, panel.Units).SelectMany(_ => effects)]);
}
