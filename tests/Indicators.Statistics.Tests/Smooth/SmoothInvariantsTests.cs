using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Smooth;
using Xunit;

namespace Indicators.Statistics.Tests.Smooth;

/// <summary>What must not change a smooth course, what must change it in a known way, and what has none.</summary>
public class SmoothInvariantsTests
{
    private static readonly PanelCounts Panel = SmoothReferenceTests.Data("counts").Panel;

    private static double[] Fit(Resample sample, double lambda)
    {
        var fit = new SmoothFit(sample.Panel);
        var penalty = SmoothFit.PenaltyFor(new NaturalSpline(sample.Panel.Times), new Resample(sample.Panel), lambda);
        Assert.Equal(SlopeStatus.Finite, fit.Fit(sample, penalty, default, 1e-12));
        return fit.Effects.ToArray();
    }

    private static (double[] Y, double[] N, double[] W, int[] Clusters) Copy(PanelCounts panel, IEnumerable<int> units)
    {
        int[] order = [.. units];
        return (
            [.. order.SelectMany(s => Enumerable.Range(0, panel.Periods).Select(t => panel.Count(s, t)))],
            [.. order.SelectMany(s => Enumerable.Range(0, panel.Periods).Select(t => panel.Exposure(s, t)))],
            [.. order.Select(panel.WeightOf)],
            [.. order.Select(panel.ClusterOf)]);
    }

    private static void Same(double[] expected, double[] actual, double tolerance)
    {
        for (int t = 0; t < expected.Length; t++)
            Assert.Equal(expected[t], actual[t], tolerance);
    }

    [Fact]
    public void Dispersion_of_poisson_counts_is_near_one_and_grows_with_their_scale()
    {
        // 30 units over 15 periods with means of about 4, drawn by inverting the distribution function: 406 degrees of freedom.
        double[] times = [.. Enumerable.Range(0, 15).Select(t => (double)t)], n = [.. Enumerable.Repeat(1.0, 450)];
        double[] y = [.. Enumerable.Range(0, 450).Select(i =>
        {
            double u = Indicators.Statistics.Resampling.Philox.Block((uint)i, 2, 7, 1, 8, 2).W0 / 4294967296.0;
            int k = 0;
            while (MathNet.Numerics.Distributions.Poisson.CDF(4 + Math.Sin(i % 15), k) < u)
                k++;
            return (double)k;
        })];
        double dispersion = SmoothSelection.DispersionOf(new PanelCounts(times, y, n));
        // Four standard errors, √(2/406) each.
        Assert.InRange(dispersion, 0.72, 1.28);
        Assert.Equal(3 * dispersion, SmoothSelection.DispersionOf(new PanelCounts(times, [.. y.Select(v => 3 * v)], n)), 1e-4);
        Assert.Equal(1, SmoothSelection.DispersionOf(new PanelCounts([1, 2, 3], [0, 0, 0], [1, 1, 1])));
    }

    [Fact]
    public void Multiplicities_equal_clusters_written_out()
    {
        int[] draw = [.. Enumerable.Range(0, Panel.ClusterCount).Select(c => c % 3)];
        var sample = new Resample(Panel);
        sample.Fill(draw);
        var units = Enumerable.Range(0, Panel.Units).SelectMany(s => Enumerable.Repeat(s, draw[Panel.ClusterOf(s)]));
        var (y, n, w, _) = Copy(Panel, units);
        Same(Fit(sample, 30), Fit(new Resample(new PanelCounts(Panel.Times, y, n, w)), 30), 1e-10);
    }

    [Fact]
    public void Order_of_units_and_their_effort_change_nothing()
    {
        var (y, n, w, clusters) = Copy(Panel, Enumerable.Range(0, Panel.Units).Reverse());
        double[] scaled = [.. n.Select((v, i) => v * (1 + i / Panel.Periods % 5))];
        Same(Fit(new Resample(Panel), 30), Fit(new Resample(new PanelCounts(Panel.Times, y, scaled, w, clusters)), 30), 1e-10);
    }

    [Fact]
    public void Weights_and_smoothing_scale_together()
    {
        var (y, n, w, _) = Copy(Panel, Enumerable.Range(0, Panel.Units));
        var heavier = new PanelCounts(Panel.Times, y, n, [.. w.Select(v => 4 * v)]);
        Same(Fit(new Resample(Panel), 30), Fit(new Resample(heavier), 120), 1e-10);
        // And stretched time: ∫f″² shrinks with its cube.
        var slower = new PanelCounts([.. Panel.Times.Select(t => 3 * t)], y, n, w);
        Same(Fit(new Resample(Panel), 30), Fit(new Resample(slower), 30 * 27), 1e-10);
    }

    [Fact]
    public void Warm_and_cold_starts_end_at_the_same_curve()
    {
        var spline = new NaturalSpline(Panel.Times);
        var sample = new Resample(Panel);
        var penalty = SmoothFit.PenaltyFor(spline, sample, 50);
        SmoothFit warm = new(Panel), cold = new(Panel);
        Assert.Equal(SlopeStatus.Finite, warm.Fit(sample, penalty, default, 1e-12));
        double[] start = warm.Effects.ToArray();
        var plan = new ResamplingPlan(3, 1, Panel.ClusterCount);
        var draw = new int[Panel.ClusterCount];
        for (int b = 0; b < 200; b++)
        {
            plan.Draw(b, draw);
            sample.Fill(draw);
            Assert.Equal(SlopeStatus.Finite, warm.Fit(sample, penalty, start));
            Assert.Equal(SlopeStatus.Finite, cold.Fit(sample, penalty, default, 1e-12));
            Same(cold.Effects.ToArray(), warm.Effects.ToArray(), 1e-5);
            Assert.True(warm.Iterations <= 8, $"{warm.Iterations} steps");
        }
    }

    [Fact]
    public void Refits_allocate_nothing()
    {
        var sample = new Resample(Panel);
        var fit = new SmoothFit(Panel);
        var penalty = SmoothFit.PenaltyFor(new NaturalSpline(Panel.Times), sample, 50);
        var plan = new ResamplingPlan(3, 1, Panel.ClusterCount);
        var draw = new int[Panel.ClusterCount];
        void Refit(int b)
        {
            plan.Draw(b, draw);
            sample.Fill(draw);
            fit.Fit(sample, penalty, default);
        }
        Refit(0);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int b = 1; b < 50; b++)
            Refit(b);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void Far_starts_and_wild_counts_still_converge()
    {
        double[] y = [.. Enumerable.Range(0, 40).Select(i => i % 7 == 0 ? 900.0 : i % 3 == 0 ? 1 : 0)];
        var panel = new PanelCounts([.. Enumerable.Range(0, 10).Select(t => (double)t)], y, [.. y.Select(_ => 1.0)]);
        var sample = new Resample(panel);
        var fit = new SmoothFit(panel);
        foreach (double lambda in new[] { 1e-6, 1, 1e6 })
        {
            var penalty = SmoothFit.PenaltyFor(new NaturalSpline(panel.Times), sample, lambda);
            Assert.Equal(SlopeStatus.Finite, fit.Fit(sample, penalty, default, 1e-12));
            double[] near = fit.Effects.ToArray();
            Assert.Equal(SlopeStatus.Finite, fit.Fit(sample, penalty, [.. Enumerable.Range(0, 10).Select(t => t % 2 == 0 ? 12.0 : -12)], 1e-12));
            Same(near, fit.Effects.ToArray(), 1e-8);
        }
    }

    [Fact]
    public void Counts_that_all_come_first_have_no_curve()
    {
        var panel = new PanelCounts([1, 2, 3, 4], [5, 0, 0, 0, 2, 0, 0, 0], [1, 1, 1, 1, 1, 0, 1, 1]);
        Assert.Equal(SlopeStatus.MinusInfinity, SmoothSelection.Choose(panel).Status);
        Assert.Equal(SlopeStatus.None, SmoothSelection.Choose(new PanelCounts([1, 2, 3], [0, 0, 0], [1, 1, 1])).Status);
        Assert.Empty(SmoothSelection.At(panel, 1).Effects);
        Assert.Throws<ArgumentException>(() => new SmoothFit(new PanelCounts([1, 2], [1, 1], [1, 1])));
        Assert.Throws<ArgumentOutOfRangeException>(() => SmoothSelection.At(panel, 0));
    }

    [Fact]
    public void Log_linear_counts_ask_for_a_straight_line()
    {
        double[] n = [.. Enumerable.Range(0, 60).Select(i => 1.0 + i % 3)];
        double[] y = [.. n.Select((v, i) => v * (5 + i / 10) * Math.Exp(-0.1 * (i % 10)))];
        var panel = new PanelCounts([.. Enumerable.Range(0, 10).Select(t => (double)t)], y, n);
        var chosen = SmoothSelection.Choose(panel);
        Assert.Equal(SmoothingPlace.StraightLine, chosen.Place);
        Assert.Equal(1, chosen.EffectiveDegreesOfFreedom, 1e-3);
        for (int t = 1; t < 10; t++)
            Assert.Equal(-0.1, chosen.Effects[t] - chosen.Effects[t - 1], 1e-9);
    }
}
