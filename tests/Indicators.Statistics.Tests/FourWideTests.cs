using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;
using Xunit;

namespace Indicators.Statistics.Tests;

/// <summary>Judged by the C library's exponential and logarithm, through <see cref="Math"/>.</summary>
public sealed class FourWideTests
{
    [Theory]
    [InlineData(-744.4, 709.7)]
    [InlineData(-40, 40)]
    [InlineData(-1, 1)]
    [InlineData(-1e-6, 1e-6)]
    public void Exponential_is_within_a_unit_in_the_last_place(double from, double to)
    {
        const int Number = 200_000;
        double furthest = 0;
        for (int i = 0; i < Number; i += 4)
        {
            var x = Vector256.Create(from) + Vector256.Create((to - from) / Number) * (Vector256.Create((double)i) + Vector256.Create(0.0, 1, 2, 3));
            var e = FourWide.Exp(x);
            for (int lane = 0; lane < 4; lane++)
                furthest = Math.Max(furthest, Units(Math.Exp(x[lane]), e[lane]));
        }
        Assert.InRange(furthest, 0, 1);
    }

    [Fact]
    public void Exponential_at_its_edges()
    {
        Assert.Equal(Vector256.Create(1, double.PositiveInfinity, 0, double.NaN), FourWide.Exp(Vector256.Create(0, double.PositiveInfinity, double.NegativeInfinity, double.NaN)));
        Assert.Equal(Vector256.Create(double.PositiveInfinity, 0, double.Epsilon, 1), FourWide.Exp(Vector256.Create(709.79, -745.2, -744.5, -0.0)));
    }

    [Fact]
    public void Lanes_do_not_see_each_other()
    {
        var alone = FourWide.Exp(Vector256.Create(0.3));
        foreach (double neighbour in new[] { 0, -3e8, 1e300, double.NaN, double.NegativeInfinity })
            Assert.Equal(alone[0], FourWide.Exp(Vector256.Create(0.3, neighbour, neighbour, neighbour))[0]);
    }

    [Fact]
    public void Logarithm_is_within_five_units_in_the_last_place()
    {
        // Goldberg's x log(1 + x) / ((1 + x) − 1) is log(1 + x) to a few units ("What every computer scientist should know
        // about floating-point arithmetic", theorem 4).
        double furthest = 0;
        for (int i = 0; i <= 100_000; i++)
        {
            double x = i <= 50_000 ? i / 50_000.0 : Math.Pow(10, -(i - 50_000) / 3000.0), above = 1 + x;
            double expected = above == 1 ? x : x * Math.Log(above) / (above - 1);
            furthest = Math.Max(furthest, Units(expected, FourWide.LogOnePlus(Vector256.Create(x))[0]));
        }
        Assert.InRange(furthest, 0, 5);
    }

    private static double Units(double expected, double value) => Math.Abs(value - expected) / (Math.BitIncrement(Math.Abs(expected)) - Math.Abs(expected));
}
