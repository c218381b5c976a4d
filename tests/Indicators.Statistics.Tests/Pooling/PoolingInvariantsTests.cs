using Indicators.Statistics.Pooling;
using Xunit;

namespace Indicators.Statistics.Tests.Pooling;

/// <summary>What must not change pooling, what must change it in a known way, and what happens at its edges.</summary>
public class PoolingInvariantsTests
{
    private static readonly double[] Y = [-0.08, 0.01, -0.03, -0.12, 0.05, -0.02];
    private static readonly double[] V = [0.0004, 0.0025, 0.0009, 0.0036, 0.0016, 0.0001];

    public static TheoryData<BetweenVarianceMethod> Methods => [.. Enum.GetValues<BetweenVarianceMethod>()];

    private static double[,] Diagonal(double[] v)
    {
        var matrix = new double[v.Length, v.Length];
        for (int i = 0; i < v.Length; i++)
            matrix[i, i] = v[i];
        return matrix;
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Diagonal_covariance_equals_independent_estimates(BetweenVarianceMethod method)
    {
        var plain = PooledMean.Of(JointEstimates.Independent(Y, V), method)!;
        var matrix = PooledMean.Of(JointEstimates.Correlated(Y, Diagonal(V)), method)!;
        Assert.Equal(plain.Between.Value, matrix.Between.Value, 1e-12);
        Assert.Equal(plain.Mean, matrix.Mean, 1e-12);
        Assert.Equal(plain.HartungKnappStandardError, matrix.HartungKnappStandardError, 1e-12);
        var one = Shrinkage.Of(JointEstimates.Independent(Y, V), 0.9)!;
        var other = Shrinkage.Of(JointEstimates.Correlated(Y, Diagonal(V)), 0.9)!;
        for (int i = 0; i < Y.Length; i++)
        {
            Assert.Equal(one[i].Interval.Lower, other[i].Interval.Lower, 1e-10);
            Assert.Equal(one[i].OwnShare, other[i].OwnShare, 1e-10);
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Order_unit_of_measure_and_origin_change_nothing_else(BetweenVarianceMethod method)
    {
        int[] order = [3, 0, 5, 1, 4, 2];
        var plain = PooledMean.Of(JointEstimates.Independent(Y, V), method)!;
        var moved = PooledMean.Of(JointEstimates.Independent([.. order.Select(i => 100 * Y[i] + 7)], [.. order.Select(i => 1e4 * V[i])]), method)!;
        Assert.True(plain.Between.Value > 0);
        Assert.Equal(1e4 * plain.Between.Value, moved.Between.Value, 1e-9);
        Assert.Equal(100 * plain.Mean + 7, moved.Mean, 1e-9);
        Assert.Equal(plain.Q, moved.Q, 1e-9);
        Assert.Equal(plain.ISquared, moved.ISquared, 1e-9);
        var a = Shrinkage.Of(JointEstimates.Independent(Y, V), 0.95)!;
        var b = Shrinkage.Of(JointEstimates.Independent([.. order.Select(i => 100 * Y[i] + 7)], [.. order.Select(i => 1e4 * V[i])]), 0.95)!;
        for (int i = 0; i < Y.Length; i++)
            Assert.Equal(100 * a[order[i]].Interval.Upper + 7, b[i].Interval.Upper, 1e-6);
    }

    [Fact]
    public void Equal_variances_give_the_plain_mean_and_all_methods_but_ml_agree()
    {
        // Then τ² = s² − v in closed form, and maximum likelihood has (k − 1)/k in place of k − 1.
        double[] v = [.. Y.Select(_ => 0.0004)];
        double s2 = Y.Sum(y => Math.Pow(y - Y.Average(), 2)) / (Y.Length - 1);
        foreach (var method in Enum.GetValues<BetweenVarianceMethod>())
        {
            var pooled = PooledMean.Of(JointEstimates.Independent(Y, v), method)!;
            double expected = method == BetweenVarianceMethod.MaximumLikelihood ? s2 * 5 / 6 - 0.0004 : s2 - 0.0004;
            Assert.Equal(expected, pooled.Between.Value, 1e-12);
            Assert.Equal(Y.Average(), pooled.Mean, 1e-13);
            Assert.True(pooled.Between.Converged);
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Units_that_agree_have_no_variance_between_them(BetweenVarianceMethod method)
    {
        var pooled = PooledMean.Of(JointEstimates.Independent([0.01, 0.011, 0.009, 0.0105], [0.01, 0.02, 0.01, 0.03]), method)!;
        Assert.Equal(0, pooled.Between.Value);
        Assert.Equal(0, pooled.ISquared);
        Assert.Equal(1, pooled.HSquared);
        // And still each unit keeps something of its own, because τ² is not known to be 0.
        Assert.All(Shrinkage.Of(JointEstimates.Independent([0.01, 0.011, 0.009, 0.0105], [0.01, 0.02, 0.01, 0.03]), 0.95)!,
            unit => Assert.True(unit.OwnShare > 0.1 && unit.StandardError > pooled.StandardError));
    }

    [Fact]
    public void Too_few_units_and_singular_covariances_give_nothing()
    {
        Assert.Null(PooledMean.Of(JointEstimates.Independent([0.1], [0.01])));
        Assert.Null(Shrinkage.Of(JointEstimates.Independent([0.1, 0.2, 0.4], [0.01, 0.02, 0.03]), 0.95));
        Assert.NotNull(Shrinkage.Of(JointEstimates.Independent([0.1, 0.2, 0.4, 0.1], [0.01, 0.02, 0.03, 0.01]), 0.95));
        Assert.NotNull(PooledMean.Of(JointEstimates.Independent([0.1, 0.2], [0.01, 0.02])));
        Assert.Null(PooledMean.Of(JointEstimates.Independent([0.1, 0.2], [0.01, 0.02]))!.PredictionInterval(0.95, PredictionConvention.StudentTwoFewer));
        // Three draws of three units span two directions only.
        var singular = JointEstimates.FromDraws([0.1, 0.2, 0.3], [0.1, 0.2, 0.3, 0.2, 0.1, 0.4, 0.0, 0.3, 0.3]);
        Assert.True(singular.IsSingular);
        Assert.Null(PooledMean.Of(singular));
        Assert.Null(Shrinkage.Of(singular, 0.95));
        Assert.Throws<ArgumentException>(() => JointEstimates.Independent([0.1, double.NaN], [0.01, 0.01]));
        Assert.Throws<ArgumentException>(() => JointEstimates.Independent([0.1, 0.2], [0.01, 0]));
    }

    [Fact]
    public void Covariance_of_draws_is_the_sample_covariance()
    {
        // Two units, four draws: deviations (1,1) (−1,−1) (2,0) (−2,0), by hand.
        double[,] covariance = JointEstimates.CovarianceOf([6, 11, 4, 9, 7, 10, 3, 10], 2);
        Assert.Equal(10.0 / 3, covariance[0, 0], 1e-14);
        Assert.Equal(2.0 / 3, covariance[0, 1], 1e-14);
        Assert.Equal(covariance[0, 1], covariance[1, 0]);
        Assert.Equal(2.0 / 3, covariance[1, 1], 1e-14);
    }

    [Fact]
    public void Weights_add_up_to_one_and_give_the_mean()
    {
        foreach (string name in new[] { "log_risk_ratio", "shared" })
        {
            var data = PoolingReferenceTests.Data(name);
            var pooled = PooledMean.Of(data)!;
            Assert.Equal(1, pooled.Weights.Sum(), 1e-12);
            Assert.Equal(pooled.Mean, pooled.Weights.Zip(data.Values(), (w, y) => w * y).Sum(), 1e-12);
        }
    }
}

/// <summary>Reads the estimates back out of best linear predictors at a τ² so large that nothing is shrunk.</summary>
internal static class JointEstimatesProbe
{
    public static double[] Values(this JointEstimates data) => [.. Shrinkage.At(data, 1e14).Select(p => p.Value)];
}
