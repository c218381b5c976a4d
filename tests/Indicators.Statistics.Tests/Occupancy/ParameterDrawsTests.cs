using Indicators.Statistics.Occupancy;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>Draws have the fit's mean and covariance, and averages over them what those imply.</summary>
public class ParameterDrawsTests
{
    private static readonly DetectionHistories Histories = new World(60, 3, 3, 0.6, 0.2, 0.25, [0.3, 0.5]) { Made = 0.8 }.Histories(2);

    private static readonly OccupancyFit Fit = MultiSeasonOccupancy.Fit(Histories, TransitionGroups.Constant(3));

    [Fact]
    public void Draws_have_the_mean_and_covariance_of_the_fit()
    {
        const int count = 40_000;
        var draws = ParameterDraws.Of(Fit, count, 1, 2)!;
        int n = Fit.Layout.Count;
        var all = new double[count][];
        for (int b = 0; b < count; b++)
            draws.Draw(b, all[b] = new double[n]);
        for (int i = 0; i < n; i++)
        {
            Assert.Equal(Fit.Point[i], all.Average(d => d[i]), 1e-9);
            for (int j = 0; j <= i; j++)
            {
                double scale = Math.Sqrt(Fit.Covariance(i, i) * Fit.Covariance(j, j));
                double covariance = all.Average(d => (d[i] - Fit.Point[i]) * (d[j] - Fit.Point[j]));
                // Four Monte Carlo standard errors of 20,000 independent pairs.
                Assert.Equal(Fit.Covariance(i, j) / scale, covariance / scale, 4 * Math.Sqrt(2.0 / (count / 2)));
            }
        }
    }

    [Fact]
    public void Draws_depend_on_seed_stream_and_number_alone()
    {
        double[] a = new double[Fit.Layout.Count], b = new double[Fit.Layout.Count];
        ParameterDraws.Of(Fit, 10, 7, 1)!.Draw(6, a);
        ParameterDraws.Of(Fit, 99, 7, 1)!.Draw(6, b);
        Assert.Equal(a, b);
        ParameterDraws.Of(Fit, 10, 7, 2)!.Draw(6, b);
        Assert.All(a.Zip(b), p => Assert.NotEqual(p.First, p.Second));
        ParameterDraws.Of(Fit, 10, 7, 1)!.Draw(7, b);
        Assert.All(a.Zip(b).Zip(Fit.Point.ToArray()), p => Assert.Equal(2 * p.Second, p.First.First + p.First.Second, 1e-12));
        Assert.Equal(12, ParameterDraws.Of(Fit, 11, 7, 1)!.Count);
    }

    [Fact]
    public void Chance_present_averaged_over_uncertainty_keeps_certainty_and_settles()
    {
        double[,] plain = MultiSeasonOccupancy.ChancesPresent(Histories, Fit)!;
        double[,] few = MultiSeasonOccupancy.ChancesPresent(Histories, ParameterDraws.Of(Fit, 400, 1, 1)!);
        double[,] many = MultiSeasonOccupancy.ChancesPresent(Histories, ParameterDraws.Of(Fit, 4000, 2, 1)!);
        double moved = 0;
        for (int s = 0; s < 60; s++)
        {
            for (int t = 0; t < 3; t++)
            {
                if (Histories.DetectedIn(s, t))
                    Assert.Equal((1.0, 1.0), (plain[s, t], Math.Round(few[s, t], 12)));
                Assert.Equal(many[s, t], few[s, t], 0.02);
                moved = Math.Max(moved, Math.Abs(many[s, t] - plain[s, t]));
            }
        }
        Assert.InRange(moved, 0.005, 0.2);
    }

    [Fact]
    public void Chance_present_averaged_by_draws_agrees_with_quadrature()
    {
        // One season, constant p: the average of ψq/(1 − ψ + ψq) over the two-dimensional normal, by a fine product rule.
        var histories = new World(40, 1, 3, 0.6, 0, 0, [0.4]).Histories(5);
        var fit = SingleSeasonOccupancy.Fit(histories);
        double sa = Math.Sqrt(fit.Covariance(0, 0)), b = fit.Covariance(0, 1) / sa, c = Math.Sqrt(fit.Covariance(1, 1) - b * b), sum = 0, total = 0;
        for (double u = -8; u <= 8; u += 0.05)
        {
            for (double v = -8; v <= 8; v += 0.05)
            {
                double weight = Math.Exp(-(u * u + v * v) / 2), psi = Of(fit.Point[0] + sa * u), p = Of(fit.Point[1] + b * u + c * v);
                total += weight;
                sum += weight * Absence.ChancePresent(psi, [p, p, p]);
            }
        }
        int silent = Enumerable.Range(0, 40).First(s => !histories.DetectedIn(s, 0));
        double averaged = MultiSeasonOccupancy.ChancesPresent(histories, ParameterDraws.Of(fit, 20_000, 1, 1)!)[silent, 0];
        Assert.Equal(sum / total, averaged, 2e-3);

        static double Of(double x) => 1 / (1 + Math.Exp(-x));
    }
}
