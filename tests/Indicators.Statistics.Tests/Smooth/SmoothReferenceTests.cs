using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Smooth;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Smooth;

/// <summary>
/// Against tests/reference/smooth: mgcv's penalised fits with unit dummies, on the same basis and a penalty matrix that R made
/// from its own natural splines; and against this engine's two limits, the log-linear trend and the annual model.
/// </summary>
public class SmoothReferenceTests
{
    internal static (PanelCounts Panel, double[] Seasons) Data(string name) =>
        ReferenceTable.Panel(ReferenceTable.Read(name == "counts" ? "smooth/counts.csv" : $"{name}/cells.csv").Rows);

    private static ReferenceRow[] Rows(string data, string model) =>
        [.. ReferenceTable.Read("smooth/expected.csv").Rows.Where(r => r["data"] == data && r["model"] == model)];

    [Theory]
    [InlineData("simulated_a")]
    [InlineData("counts")]
    public void Curves_degrees_of_freedom_and_criteria_agree_with_mgcv_at_given_smoothing(string name)
    {
        var (panel, seasons) = Data(name);
        var spline = new NaturalSpline(panel.Times);
        var rows = Rows(name, "given");
        double[] lambdas = [.. rows.Select(r => r.Number("lambda")).Distinct()];
        Assert.Equal(5, lambdas.Length);
        // Both sides leave constants out of REML, not the same ones: changes from the first λ are compared.
        double remlShift = double.NaN, dispersedShift = double.NaN;
        foreach (double lambda in lambdas)
        {
            var fit = SmoothSelection.At(panel, lambda);
            double[] f = [.. fit.Effects], second = new double[f.Length], first = new double[f.Length];
            Assert.Equal(SlopeStatus.Finite, fit.Status);
            Assert.Equal(0, f.Sum(), 1e-10);
            spline.SecondDerivatives(f, second);
            spline.FirstDerivatives(f, second, first);
            var steepest = spline.Steepest(f, second);
            double dispersed = SmoothSelection.At(panel, lambda, dispersion: 2).Score;
            double gcv = SmoothSelection.At(panel, lambda, SmoothingCriterion.GeneralisedCrossValidation).Score;
            foreach (var row in rows.Where(r => r.Number("lambda") == lambda))
            {
                double expected = row.Number("value");
                int t = row["term"].Length == 0 ? -1 : Array.IndexOf(seasons, row.Number("term"));
                switch (row["quantity"])
                {
                    case "effect": Near.Relative(expected, f[t], Near.Estimate, $"{name}: {row}"); break;
                    case "first_derivative": Near.Relative(expected, first[t], Near.Estimate, $"{name}: {row}"); break;
                    case "second_derivative": Near.Relative(expected, second[t], Near.Estimate, $"{name}: {row}"); break;
                    case "edf": Near.Relative(expected, fit.EffectiveDegreesOfFreedom, Near.Estimate, $"{name}: {row}"); break;
                    case "gcv": Near.Relative(expected, gcv, Near.Estimate, $"{name}: {row}"); break;
                    // Penalised fits with dispersion 2 differ: the same λ on the count scale, REML of half the likelihood.
                    case "reml": remlShift = Shift(remlShift, expected - fit.Score, row); break;
                    case "reml_dispersion_2": dispersedShift = Shift(dispersedShift, expected - dispersed, row); break;
                    // R looked on a grid of 100,001 points: half a step in time, and its square in the slope.
                    case "fall_time": Assert.Equal(expected, steepest.FallTime, 2e-4); break;
                    case "rise_time": Assert.Equal(expected, steepest.RiseTime, 2e-4); break;
                    case "fall": Assert.Equal(expected, steepest.Fall, 1e-8); break;
                    case "rise": Assert.Equal(expected, steepest.Rise, 1e-8); break;
                    default: throw new InvalidOperationException($"nothing checks {row}");
                }
            }
        }
    }

    private static double Shift(double known, double found, object what)
    {
        if (!double.IsNaN(known))
            Assert.True(Math.Abs(known - found) < 1e-8, $"{what}: {known} and {found}");
        return found;
    }

    [Theory]
    [InlineData("simulated_a", "reml", SmoothingCriterion.RestrictedMaximumLikelihood, 1)]
    [InlineData("simulated_a", "reml_dispersion_2", SmoothingCriterion.RestrictedMaximumLikelihood, 2)]
    [InlineData("counts", "reml", SmoothingCriterion.RestrictedMaximumLikelihood, 1)]
    [InlineData("counts", "reml_dispersion_2", SmoothingCriterion.RestrictedMaximumLikelihood, 2)]
    [InlineData("counts", "gcv", SmoothingCriterion.GeneralisedCrossValidation, 1)]
    public void Chosen_smoothing_agrees_with_mgcv(string name, string model, SmoothingCriterion criterion, double dispersion)
    {
        var (panel, seasons) = Data(name);
        var chosen = SmoothSelection.Choose(panel, criterion, dispersion, 1e-8);
        Assert.Equal(SmoothingPlace.Inside, chosen.Place);
        foreach (var row in Rows(name, model))
        {
            // A search for the top of a flat curve finds it to about the root of the machine's precision, on both sides:
            // λ to 1e-5 of itself, which moves no effect by 1e-6 of a log unit.
            double actual = row["quantity"] switch
            {
                "lambda" => chosen.Penalty!.Lambda,
                "edf" => chosen.EffectiveDegreesOfFreedom,
                _ => chosen.Effects[Array.IndexOf(seasons, row.Number("term"))],
            };
            if (row["quantity"] == "effect")
                Assert.Equal(row.Number("value"), actual, 1e-6);
            else
                Near.Relative(row.Number("value"), actual, row["quantity"] == "lambda" ? 1e-5 : 1e-6, $"{name}, {model}: {row}");
        }
        // The default search, meant for hundreds of series, ends at the same curve for all that anyone will read off it.
        var quick = SmoothSelection.Choose(panel, criterion, dispersion);
        Assert.Equal(chosen.EffectiveDegreesOfFreedom, quick.EffectiveDegreesOfFreedom, 2e-3);
        for (int t = 0; t < seasons.Length; t++)
            Assert.Equal(chosen.Effects[t], quick.Effects[t], 2e-4);
    }

    [Fact]
    public void A_silent_season_sends_cross_validation_to_the_free_end()
    {
        var (panel, _) = Data("simulated_a");
        var chosen = SmoothSelection.Choose(panel, SmoothingCriterion.GeneralisedCrossValidation);
        // mgcv stopped at an edf of 10.87 of 11 on its way there.
        Assert.Equal(SmoothingPlace.Annual, chosen.Place);
        Assert.InRange(chosen.EffectiveDegreesOfFreedom, 10.5, 11);
        Assert.InRange(Rows("simulated_a", "gcv").Single(r => r["quantity"] == "edf").Number("value"), 10.5, 11);
    }

    [Theory]
    [InlineData("simulated_a")]
    [InlineData("simulated_b")]
    [InlineData("salamanders")]
    [InlineData("counts")]
    public void Great_smoothing_is_the_trend(string name)
    {
        var (panel, seasons) = Data(name);
        var fit = SmoothSelection.At(panel, 1e13);
        double slope = TrendFit.Of(panel).Value;
        Assert.Equal(1, fit.EffectiveDegreesOfFreedom, 1e-6);
        for (int t = 0; t < seasons.Length; t++)
            Assert.Equal(slope * (seasons[t] - seasons.Average()), fit.Effects[t], 1e-9);
    }

    [Theory]
    [InlineData("simulated_b")]
    [InlineData("salamanders")]
    [InlineData("counts")]
    public void No_smoothing_is_the_annual_model(string name)
    {
        var (panel, seasons) = Data(name);
        var fit = SmoothSelection.At(panel, 1e-10);
        var annual = PeriodFit.Of(panel, [.. seasons.Select((_, t) => t < 3)]);
        Assert.True(annual.Succeeded);
        double mean = annual.Effects.ToArray().Average();
        Assert.Equal(seasons.Length - 1, fit.EffectiveDegreesOfFreedom, 1e-6);
        for (int t = 0; t < seasons.Length; t++)
            Assert.Equal(annual.Effects[t] - mean, fit.Effects[t], 1e-7);
    }
}
