using Indicators.Statistics.Intervals;
using Xunit;

namespace Indicators.Statistics.Tests;

public sealed class DrawMomentsTests
{
    /// <summary>R 4.2: mean(c(2,4,4,4,5,5,7,9)) is 5, var() of the same 32/7.</summary>
    [Fact]
    public void Mean_and_variance_are_those_of_R_over_the_finite_draws()
    {
        var moments = DrawMoments.Of([2, double.NaN, 4, 4, 4, double.PositiveInfinity, 5, 5, 7, 9, double.NegativeInfinity]);
        Assert.Equal(5, moments.Mean, 12);
        Assert.Equal(32 / 7.0, moments.Variance, 12);
    }

    [Fact]
    public void Fewer_than_two_draws_have_no_variance()
    {
        Assert.Equal(0, DrawMoments.Of([3]).Variance);
        Assert.True(double.IsNaN(DrawMoments.Of([double.NaN]).Mean));
    }

    [Fact]
    public void Centred_draws_keep_their_shape_and_have_the_estimate_for_a_mean()
    {
        double[] draws = [1, 2, double.NaN, 6, double.PositiveInfinity];
        DrawMoments.Centre(draws, 10);
        Assert.Equal([8, 9, double.NaN, 13, double.PositiveInfinity], draws);
        double[] nothing = [double.NaN, double.NegativeInfinity];
        DrawMoments.Centre(nothing, 10);
        Assert.Equal([double.NaN, double.NegativeInfinity], nothing);
    }
}
