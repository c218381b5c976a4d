using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

/// <summary>What must not change a fit, and what must change it in a known way.</summary>
public class FitInvariantsTests
{
    private static readonly double[] Times = [2012, 2013, 2015, 2016, 2017, 2020];

    private static (double[] Y, double[] N) Draw(int units, uint key)
    {
        var y = new double[units * Times.Length];
        var n = new double[units * Times.Length];
        for (int i = 0; i < y.Length; i++)
        {
            var (a, b, c, _) = Philox.Block((uint)i, 0, 0, 0, key, 0);
            n[i] = a % 4;
            y[i] = n[i] == 0 ? 0 : (b % 10) * (c % 3) % 7;
        }
        for (int s = 0; s < units; s++)
            (n[s * Times.Length], y[s * Times.Length + 3], n[s * Times.Length + 3]) = (2, y[s * Times.Length + 3] + 1, n[s * Times.Length + 3] + 1);
        return (y, n);
    }

    private static bool[] Baseline => [true, true, true, false, false, false];

    private static double[] Index(PeriodFit fit)
    {
        double[] e = [.. fit.Effects.ToArray().Select(Math.Exp)];
        double mean = (e[0] + e[1] + e[2]) / 3;
        return [.. e.Select(x => 100 * x / mean)];
    }

    [Fact]
    public void Multiplicity_two_equals_the_unit_written_twice()
    {
        var (y, n) = Draw(9, 1);
        var panel = new PanelCounts(Times, y, n);
        var doubled = new PanelCounts(Times, [.. y, .. y[..Times.Length]], [.. n, .. n[..Times.Length]]);
        var sample = new Resample(panel);
        sample.Fill([2, 1, 1, 1, 1, 1, 1, 1, 1]);
        Assert.Equal(TrendFit.Of(doubled).Value, new TrendFit(6).Fit(sample, 6, 0, 1e-13).Value, 1e-12);
        var fit = new PeriodFit(panel);
        Assert.True(fit.Fit(sample, Baseline, default, 1e-13));
        Assert.All(Index(fit).Zip(Index(PeriodFit.Of(doubled, Baseline))), p => Assert.Equal(p.First, p.Second, 1e-9));
    }

    [Fact]
    public void Multiplicity_zero_equals_the_unit_left_out()
    {
        var (y, n) = Draw(9, 2);
        var panel = new PanelCounts(Times, y, n);
        var without = new PanelCounts(Times, y[Times.Length..], n[Times.Length..]);
        var sample = new Resample(panel);
        sample.FillWithout(0, new int[9]);
        Assert.Equal(TrendFit.Of(without).Value, new TrendFit(6).Fit(sample, 6, 0, 1e-13).Value, 1e-12);
        var fit = new PeriodFit(panel);
        Assert.True(fit.Fit(sample, Baseline, default, 1e-13));
        Assert.All(Index(fit).Zip(Index(PeriodFit.Of(without, Baseline))), p => Assert.Equal(p.First, p.Second, 1e-9));
    }

    [Fact]
    public void Common_factors_of_weight_effort_and_unit_change_nothing()
    {
        var (y, n) = Draw(9, 3);
        var plain = new PanelCounts(Times, y, n);
        double[] scaledEffort = [.. n.Select((v, i) => v * (1 + i / Times.Length))];
        var scaled = new PanelCounts(Times, y, scaledEffort, [.. Enumerable.Repeat(0.001, 9)]);
        Assert.Equal(TrendFit.Of(plain).Value, TrendFit.Of(scaled).Value, 1e-12);
        Assert.All(Index(PeriodFit.Of(plain, Baseline)).Zip(Index(PeriodFit.Of(scaled, Baseline))), p => Assert.Equal(p.First, p.Second, 1e-8));
    }

    [Fact]
    public void Log_linear_counts_give_back_their_slope_and_course()
    {
        double[] n = [.. Enumerable.Range(0, 4 * 6).Select(i => 1.0 + i % 3)];
        double[] y = [.. n.Select((v, i) => v * (1 + i / 6) * Math.Exp(-0.07 * (Times[i % 6] - 2012)))];
        var panel = new PanelCounts(Times, y, n);
        Assert.Equal(-0.07, TrendFit.Of(panel).Value, 1e-13);
        var effects = PeriodFit.Of(panel, Baseline).Effects;
        for (int t = 1; t < 6; t++)
            Assert.Equal(-0.07 * (Times[t] - 2012), effects[t] - effects[0], 1e-12);
    }

    [Fact]
    public void Warm_start_and_cold_start_end_at_the_same_place()
    {
        var (y, n) = Draw(30, 4);
        var panel = new PanelCounts(Times, y, n);
        var full = PeriodFit.Of(panel, Baseline);
        double[] start = full.Effects.ToArray();
        var plan = new ResamplingPlan(1, 1, 30);
        var draw = new int[30];
        var sample = new Resample(panel);
        TrendExpansion[] expansions = [.. Enumerable.Range(0, 7)
            .Select(p => new TrendExpansion(panel, Math.Max(2, p), new TrendFit(6).Fit(sample, Math.Max(2, p), 0, 1e-13).Value))];
        PeriodFit warm = new(panel), cold = new(panel);
        for (int b = 0; b < 200; b++)
        {
            plan.Draw(b, draw);
            sample.Fill(draw);
            Assert.True(warm.Fit(sample, Baseline, start));
            Assert.True(cold.Fit(sample, Baseline, default, 1e-13));
            Assert.All(Index(warm).Zip(Index(cold)), p => Assert.Equal(p.First, p.Second, 1e-4));
            double slope = new TrendFit(6).Fit(sample, 6, -0.5).Value;
            Assert.Equal(new TrendFit(6).Fit(sample, 6, 0.5, 1e-13).Value, slope, 1e-10);
            for (int p = 3; p <= 6; p++)
                Assert.Equal(new TrendFit(6).Fit(sample, p, 0, 1e-13).Value, new TrendFit(6).Refit(sample, expansions[p]).Value, 2e-5);
        }
    }

    [Fact]
    public void Gradient_vanishes_at_the_maximum_of_the_conditional_likelihood()
    {
        var (y, n) = Draw(12, 5);
        var panel = new PanelCounts(Times, y, n);
        double beta = TrendFit.Of(panel).Value;
        double At(double b) => ConditionalPoisson.LogLikelihood(panel, [.. Enumerable.Range(0, y.Length).Select(i => b * (Times[i % 6] - 2015))]);
        const double h = 1e-4;
        Assert.Equal(0, (At(beta + h) - At(beta - h)) / (2 * h), 1e-5);
        double curvature = -(At(beta + h) - 2 * At(beta) + At(beta - h)) / (h * h);
        Assert.Equal(TrendFit.Of(panel).Information, curvature, 1e-3 * curvature);
    }
}
