using Indicators.Statistics.Intervals;
using Indicators.Statistics.Pooling;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests.Pooling;

/// <summary>
/// How often intervals hold the truth in simulated worlds, seeded. The truth is drawn here; nothing of the engine makes it.
/// </summary>
public class PoolingCoverageTests(ITestOutputHelper output)
{
    private const double Confidence = 0.95;

    private sealed class Normals(uint key)
    {
        private uint _counter;

        public double Uniform() => (Philox.Block(_counter++, 0, 0, 0, key, 77).W0 + 0.5) / 4294967296.0;

        public double Next() => Quantile.OfNormal(Uniform());
    }

    /// <summary>Shares of units' true values inside: averaged over τ, and with τ² plugged in.</summary>
    private static (double Averaged, double PluggedIn, double WorstUnit, double WidthRatio) Shrunken(int k, double tau, int worlds, uint key)
    {
        var random = new Normals(key);
        double averaged = 0, plugged = 0, width = 0, raw = 0, z = Quantile.OfNormal(0.975);
        var perUnit = new double[k];
        double[] theta = new double[k], y = new double[k], v = new double[k];
        for (int w = 0; w < worlds; w++)
        {
            for (int i = 0; i < k; i++)
            {
                // Standard errors from 1 to √10, evenly on the log scale, in a fixed order.
                double se = Math.Pow(10, 0.5 * i / (k - 1));
                theta[i] = tau * random.Next();
                (y[i], v[i]) = (theta[i] + se * random.Next(), se * se);
            }
            var data = JointEstimates.Independent(y, v);
            var shrunken = Shrinkage.Of(data, Confidence)!;
            var plug = Shrinkage.At(data, BetweenVarianceEstimator.Estimate(data, BetweenVarianceMethod.RestrictedMaximumLikelihood).Value);
            for (int i = 0; i < k; i++)
            {
                bool inside = shrunken[i].Interval.Lower <= theta[i] && theta[i] <= shrunken[i].Interval.Upper;
                averaged += inside ? 1 : 0;
                perUnit[i] += inside ? 1 : 0;
                plugged += Math.Abs(theta[i] - plug[i].Value) <= z * plug[i].StandardError ? 1 : 0;
                width += shrunken[i].Interval.Upper - shrunken[i].Interval.Lower;
                raw += 2 * z * Math.Sqrt(v[i]);
            }
        }
        double n = (double)k * worlds;
        return (averaged / n, plugged / n, perUnit.Min() / worlds, width / raw);
    }

    [Theory]
    [InlineData(5, 0, 400)]
    [InlineData(5, 1, 400)]
    [InlineData(12, 0.5, 300)]
    [InlineData(12, 1, 300)]
    [InlineData(40, 0.5, 100)]
    [InlineData(40, 2, 100)]
    public void Shrunken_intervals_hold_the_truth_where_a_plugged_in_variance_does_not(int k, double tau, int worlds)
    {
        var (averaged, plugged, worst, width) = Shrunken(k, tau, worlds, (uint)(100 * k + 10 * tau));
        output.WriteLine(FormattableString.Invariant($"k {k}, tau {tau}: averaged {averaged:F3}, plugged in {plugged:F3}, worst unit {worst:F3}, width / raw width {width:F2}"));
        Assert.InRange(averaged, 0.94, 1);
        Assert.True(averaged > plugged, $"plugged in {plugged}, averaged {averaged}");
        Assert.True(width < 1);
    }

    [Fact]
    public void Shared_seasons_need_the_joint_covariance()
    {
        // Twelve units over which the same ten season shocks pass: each estimate's error is its own part plus a shared one.
        const int k = 12, worlds = 1000;
        var random = new Normals(9);
        const double own = 0.02, shared = 0.03, tau = 0.02;
        double[] y = new double[k], v = new double[k];
        var covariance = new double[k, k];
        for (int i = 0; i < k; i++)
            for (int j = 0; j < k; j++)
                covariance[i, j] = shared * shared + (i == j ? own * own : 0);
        Array.Fill(v, own * own + shared * shared);
        int joint = 0, apart = 0, prediction = 0;
        for (int w = 0; w < worlds; w++)
        {
            double shock = shared * random.Next();
            for (int i = 0; i < k; i++)
                y[i] = -0.03 + tau * random.Next() + shock + own * random.Next();
            var together = PooledMean.Of(JointEstimates.Correlated(y, covariance))!;
            joint += Inside(together.NormalInterval(Confidence), -0.03);
            apart += Inside(PooledMean.Of(JointEstimates.Independent(y, v))!.HartungKnappInterval(Confidence), -0.03);
            prediction += Inside(together.PredictionInterval(Confidence)!.Value, -0.03 + tau * random.Next());
        }
        output.WriteLine($"mean held: joint {joint}, as if independent {apart}; one more unit held {prediction}; of {worlds}");
        Assert.InRange(joint / (double)worlds, 0.93, 0.975);
        Assert.InRange(apart / (double)worlds, 0, 0.6);
        Assert.InRange(prediction / (double)worlds, 0.93, 1);
    }

    private static int Inside(Interval interval, double truth) => interval.Lower <= truth && truth <= interval.Upper ? 1 : 0;
}
