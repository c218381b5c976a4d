using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>The likelihood, its gradient and its information against differences, and what must not change them.</summary>
public class OccupancyLikelihoodTests
{
    private static readonly World Full = new(60, 5, 3, 0.6, 0.2, 0.25, [0.3, 0.6, 0.4]) { Effect = 0.8, SiteEffect = 1, Made = 0.7 };

    public static TheoryData<string> Shapes => ["single", "covariates", "shared", "by_interval", "mixed"];

    private static (DetectionHistories Histories, TransitionGroups Groups) Of(string shape) => shape switch
    {
        "single" => (new World(40, 1, 4, 0.6, 0, 0, [0.4]) { Made = 0.8 }.Histories(1), TransitionGroups.None),
        "covariates" => ((Full with { Seasons = 1 }).Histories(2), TransitionGroups.None),
        "shared" => (Full.Histories(3), TransitionGroups.Constant(5)),
        "by_interval" => (Full.Histories(4), TransitionGroups.ByInterval(5)),
        _ => (Full.Histories(5), new TransitionGroups([0, 0, 1, 1], [0, 1, 0, 1])),
    };

    private static double[] PointOf(OccupancyLikelihood likelihood, int variant) =>
        [.. Enumerable.Range(0, likelihood.Layout.Count).Select(j => Math.Sin(1.7 * j + variant) - 0.3)];

    [Theory]
    [MemberData(nameof(Shapes))]
    public void Gradient_is_the_slope_of_the_value(string shape)
    {
        var (histories, groups) = Of(shape);
        var likelihood = new OccupancyLikelihood(histories, groups);
        for (int variant = 0; variant < 3; variant++)
        {
            double[] at = PointOf(likelihood, variant);
            Near.Relative(likelihood.Value(at), likelihood.Derivatives(at), 1e-14, "value");
            double[] gradient = likelihood.Gradient.ToArray();
            for (int j = 0; j < at.Length; j++)
            {
                // Fourth-order central differences: the error is some 1e-12 of the value.
                const double h = 1e-3;
                double slope = (8 * (Moved(j, h) - Moved(j, -h)) - (Moved(j, 2 * h) - Moved(j, -2 * h))) / (12 * h);
                Assert.True(Math.Abs(slope - gradient[j]) < 1e-8 * Math.Max(1, Math.Abs(slope)), $"{shape} {j}: {slope} and {gradient[j]}");
            }

            double Moved(int j, double by) => likelihood.Value([.. at.Select((v, i) => i == j ? v + by : v)]);
        }
    }

    [Theory]
    [MemberData(nameof(Shapes))]
    public void Information_is_minus_the_slope_of_the_gradient(string shape)
    {
        var (histories, groups) = Of(shape);
        var likelihood = new OccupancyLikelihood(histories, groups);
        for (int variant = 0; variant < 3; variant++)
        {
            double[] at = PointOf(likelihood, variant);
            for (int j = 0; j < at.Length; j++)
            {
                const double h = 1e-3;
                double[] slope = [.. Moved(j, h).Zip(Moved(j, -h), (a, b) => 8 * (a - b)).Zip(Moved(j, 2 * h).Zip(Moved(j, -2 * h), (a, b) => a - b), (a, b) => (a - b) / (12 * h))];
                likelihood.Derivatives(at);
                for (int i = 0; i < at.Length; i++)
                    Assert.True(Math.Abs(slope[i] + likelihood.Information(i, j)) < 1e-8 * Math.Max(1, Math.Abs(slope[i])), $"{shape} {i},{j}: {slope[i]} and {likelihood.Information(i, j)}");
            }

            double[] Moved(int j, double by)
            {
                likelihood.Derivatives([.. at.Select((v, i) => i == j ? v + by : v)]);
                return likelihood.Gradient.ToArray();
            }
        }
    }

    [Fact]
    public void Gradient_vanishes_at_the_estimates()
    {
        var (histories, groups) = Of("by_interval");
        var fit = MultiSeasonOccupancy.Fit(histories, groups);
        Assert.Equal(OccupancyStatus.Interior, fit.Status);
        var likelihood = new OccupancyLikelihood(histories, groups);
        Assert.Equal(fit.LogLikelihood, likelihood.Derivatives(fit.Point), 1e-10);
        Assert.All(likelihood.Gradient.ToArray(), g => Assert.Equal(0, g, 1e-9));
    }

    [Fact]
    public void Probabilities_of_every_possible_history_add_up_to_one()
    {
        // Two seasons of two visits: sixteen histories of one site.
        var groups = TransitionGroups.Constant(2);
        double total = 0;
        for (int bits = 0; bits < 16; bits++)
        {
            int seen = bits;
            Visit[] visits = [.. Enumerable.Range(0, 4).Select(i => new Visit(0, i / 2, (seen >> i & 1) != 0, i % 2))];
            total += Math.Exp(new OccupancyLikelihood(new DetectionHistories(1, 2, visits, 2), groups).Value([0.3, -0.7, -1.1, 0.4, -0.2]));
        }
        Assert.Equal(1, total, 1e-14);
    }

    [Fact]
    public void Impossible_data_have_minus_infinity_not_a_number()
    {
        var histories = new DetectionHistories(1, 1, [new Visit(0, 0, true), new Visit(0, 0, false)]);
        var likelihood = new OccupancyLikelihood(histories, TransitionGroups.None);
        Assert.Equal(double.NegativeInfinity, likelihood.Value([0, double.PositiveInfinity]));
        Assert.Equal(double.NegativeInfinity, likelihood.Value([0, double.NegativeInfinity]));
        Assert.Equal(double.NegativeInfinity, likelihood.Value([double.NegativeInfinity, 0]));
    }

    [Fact]
    public void Long_silence_neither_under_nor_overflows()
    {
        // 20 seasons of 60 silent visits after one detection: e^−1000 or so before scaling.
        Visit[] visits = [new(0, 0, true), .. Enumerable.Range(0, 1200).Select(i => new Visit(0, i / 60, false))];
        var likelihood = new OccupancyLikelihood(new DetectionHistories(1, 20, visits), TransitionGroups.Constant(20));
        double value = likelihood.Derivatives([1, -30, -30, 2]);
        Assert.True(double.IsFinite(value));
        Assert.All(likelihood.Gradient.ToArray(), g => Assert.True(double.IsFinite(g)));
        // The first season's state is known, so nothing of its information is missing: ψ (1 − ψ) at a logit of 1.
        Assert.Equal(0.19661193324148185, likelihood.Information(0, 0), 1e-12);
    }
}
