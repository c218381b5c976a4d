using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Smooth;
using Xunit;

namespace Indicators.Statistics.Tests.Smooth;

/// <summary>Derivatives, fastest changes and turning points of curves whose own are known.</summary>
public class CurveChangesTests
{
    private static readonly double[] Times = [.. Enumerable.Range(2000, 21).Select(t => (double)t)];

    /// <summary>A fall about a given season: −tanh((t − c)/2), steepest at c, bending down before it and up after.</summary>
    private static double[] Fall(double centre, double depth = 1) => [.. Times.Select(t => -depth * Math.Tanh((t - centre) / 2))];

    /// <summary>Turns refits given one after the other into values given knot by knot.</summary>
    private static CurveChanges Judge(double[] curve, double[] refits)
    {
        int n = curve.Length, count = refits.Length / n;
        double[] byKnot = [.. Enumerable.Range(0, refits.Length).Select(i => refits[i % count * n + i / count])];
        return CurveChanges.Of(new NaturalSpline(Times), curve, byKnot, byKnot, 0.95);
    }

    [Fact]
    public void Steepest_point_of_a_known_curve_is_found_between_seasons()
    {
        var spline = new NaturalSpline(Times);
        double[] f = Fall(2009.4), second = new double[f.Length];
        spline.SecondDerivatives(f, second);
        var steepest = spline.Steepest(f, second);
        // The spline interpolates tanh to about 1e-2 of a season here; a finer grid of knots would come closer.
        Assert.Equal(2009.4, steepest.FallTime, 0.02);
        Assert.Equal(-0.5, steepest.Fall, 0.01);
        Assert.False(steepest.IsStraight);
    }

    [Fact]
    public void Second_derivatives_of_many_curves_are_those_of_each()
    {
        double[] times = [2000, 2001, 2003, 2004, 2007, 2008, 2009];
        var spline = new NaturalSpline(times);
        double[][] curves = [.. Enumerable.Range(1, 5).Select(c => times.Select((t, i) => Math.Sin(c * i * 1.3) + c * t / 100).ToArray())];
        double[] together = [.. Enumerable.Range(0, times.Length * 5).Select(i => curves[i % 5][i / 5])], found = new double[together.Length];
        spline.SecondDerivatives(together, 5, found);
        double[] one = new double[times.Length];
        for (int c = 0; c < 5; c++)
        {
            spline.SecondDerivatives(curves[c], one);
            for (int t = 0; t < times.Length; t++)
                Assert.Equal(one[t], found[t * 5 + c], 1e-11);
        }
    }

    [Fact]
    public void Straight_lines_have_no_steepest_season()
    {
        double[] line = [.. Times.Select(t => 0.03 * t)];
        var changes = Judge(line, [.. line, .. line, .. line]);
        Assert.Null(changes.Fall.Time);
        Assert.Null(changes.Rise.TimeInterval);
        Assert.Equal(0, changes.Fall.Shares.Sum());
        Assert.All(changes.Turns, turn => Assert.Equal(0, turn.Second, 1e-9));
        Assert.Equal(0.03, changes.Rise.Slope, 1e-9);
    }

    [Fact]
    public void Refits_give_the_fastest_fall_its_interval_and_the_turns_their_sign()
    {
        // Refits whose fall comes evenly between 2008.4 and 2010.4.
        double[] refits = [.. Enumerable.Range(0, 200).SelectMany(b => Fall(2008.4 + b / 100.0, 0.9 + b % 7 / 30.0))];
        var changes = Judge(Fall(2009.4), refits);
        Assert.Equal(200, changes.Refits);
        Assert.Equal(2009.4, changes.Fall.Time!.Value, 0.02);
        Assert.Equal(2008.45, changes.Fall.TimeInterval!.Value.Lower, 0.06);
        Assert.Equal(2010.35, changes.Fall.TimeInterval!.Value.Upper, 0.06);
        Assert.Equal(1, changes.Fall.Shares.Sum(), 1e-9);
        // Half the refits are nearest 2009: from 2008.5 to 2009.5.
        Assert.Equal(0.5, changes.Fall.Shares[9], 0.03);
        Assert.Equal(Bend.Downward, changes.Turns.Single(t => t.Time == 2007).Bend);
        Assert.Equal(Bend.Upward, changes.Turns.Single(t => t.Time == 2012).Bend);
        Assert.Equal(Bend.None, changes.Turns.Single(t => t.Time == 2009).Bend);
    }

    [Fact]
    public void Interval_of_the_fastest_change_holds_the_curves_own_where_every_refit_waves_more()
    {
        // A level course; each refit falls by 0.05 to 0.1 at its steepest somewhere, and rises as fast elsewhere.
        double[] refits = [.. Enumerable.Range(0, 100).SelectMany(b => Times.Select(t => (0.1 + b / 1000.0) * Math.Sin((t - 2000 - b) / 2)))];
        var changes = Judge(new double[Times.Length], refits);
        Assert.Equal(0, changes.Fall.SlopeInterval.Upper);
        Assert.Equal(0, changes.Rise.SlopeInterval.Lower);
        Assert.Equal(-0.1, changes.Fall.SlopeInterval.Lower, 0.005);
        Assert.Equal(0.1, changes.Rise.SlopeInterval.Upper, 0.005);
    }

    [Fact]
    public void Bootstrap_of_a_simulated_fall_holds_its_season()
    {
        // Thirty units, a fall to a fifth about 2009.4, counts near Poisson: everything through the engine, as it will be used.
        const int units = 30, refitCount = 200;
        double[] y = new double[units * Times.Length], n = new double[y.Length];
        for (int i = 0; i < y.Length; i++)
        {
            var (a, b, _, _) = Philox.Block((uint)i, 0, 0, 0, 12, 0);
            n[i] = 1 + a % 3;
            double mean = n[i] * 4 * Math.Exp(-0.8 * Math.Tanh((Times[i % Times.Length] - 2009.4) / 2));
            y[i] = MathNet.Numerics.Distributions.Poisson.CDF(mean, 0) > b / 4294967296.0 ? 0 : Quantile(mean, b / 4294967296.0);
        }
        var panel = new PanelCounts(Times, y, n);
        var chosen = SmoothSelection.Choose(panel);
        var sample = new Resample(panel);
        var fit = new SmoothFit(panel);
        var plan = new ResamplingPlan(1, 1, units);
        var draw = new int[units];
        var refits = new double[refitCount * Times.Length];
        for (int r = 0; r < refitCount; r++)
        {
            plan.Draw(r, draw);
            sample.Fill(draw);
            Assert.Equal(Fits.SlopeStatus.Finite, fit.Fit(sample, chosen.Penalty!, [.. chosen.Effects]));
            fit.Effects.CopyTo(refits.AsSpan(r * Times.Length));
        }
        var changes = Judge([.. chosen.Effects], refits);
        Assert.Equal(2009.4, changes.Fall.Time!.Value, 1);
        Assert.InRange(2009.4, changes.Fall.TimeInterval!.Value.Lower, changes.Fall.TimeInterval!.Value.Upper);
        Assert.True(changes.Fall.TimeInterval!.Value.Upper - changes.Fall.TimeInterval!.Value.Lower < 4);
        Assert.True(changes.Fall.SlopeInterval.Upper < 0);
        Assert.Contains(changes.Turns, t => t.Bend == Bend.Downward && t.Time < 2009.4);
        Assert.Contains(changes.Turns, t => t.Bend == Bend.Upward && t.Time > 2009.4);

        static double Quantile(double mean, double p)
        {
            int k = 0;
            while (MathNet.Numerics.Distributions.Poisson.CDF(mean, k) < p)
                k++;
            return k;
        }
    }
}
