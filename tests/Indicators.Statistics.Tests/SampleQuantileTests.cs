using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class SampleQuantileTests
{
    [Fact]
    public void Quantile_in_place_equals_the_quantile_of_the_sorted_values()
    {
        for (uint key = 0; key < 300; key++)
        {
            int count = 1 + (int)(key * 7 % 61);
            double[] values = [.. Enumerable.Range(0, count).Select(i => Philox.Block((uint)i, 0, 0, 0, key, 9).W0 % 23 switch
            {
                0 => double.NegativeInfinity,
                1 => double.PositiveInfinity,
                var other => (double)other,
            })];
            double[] sorted = [.. values.Order()];
            foreach (double p in new[] { 0, 0.025, 0.2, 0.5, 0.9, 0.975, 1 })
                Assert.Equal(SampleQuantile.Type6(sorted, p), SampleQuantile.Type6InPlace([.. values], p));
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(39)]
    [InlineData(40)]
    [InlineData(999)]
    [InlineData(1000)]
    [InlineData(2003)]
    public void Tails_in_place_equal_the_quantiles_of_the_sorted_values(int count)
    {
        for (uint key = 0; key < 40; key++)
        {
            // Some worlds with ties and infinite values, some in order already, some without either.
            double[] values = [.. Enumerable.Range(0, count).Select(i => Philox.Block((uint)i, 0, 0, 0, key, 10).W0 % (key % 2 == 0 ? 29 : 1_000_003) switch
            {
                0 => double.NegativeInfinity,
                1 => double.PositiveInfinity,
                var other => other - 12.0,
            })];
            double[] sorted = [.. values.Order()];
            if (key % 5 == 4)
                values = key % 3 == 0 ? sorted : [.. sorted.Reverse()];
            foreach (double tail in new[] { 1e-6, 0.005, 0.025, 0.05, 0.16, 0.25, 0.45 })
                Assert.Equal((SampleQuantile.Type6(sorted, tail), SampleQuantile.Type6(sorted, 1 - tail)), SampleQuantile.TailsInPlace([.. values], tail));
        }
    }
}
