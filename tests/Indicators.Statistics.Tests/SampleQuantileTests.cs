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
}
