using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests.Expansions;

public class ClusterSumsTests
{
    [Theory]
    [InlineData(1, 1, 1)]
    [InlineData(7, 6, 20)]
    [InlineData(13, 13, 13)]
    [InlineData(165, 9, 30)]
    public void Sums_are_those_of_a_plain_loop(int columns, int rows, int clusters)
    {
        int[] which = [.. Enumerable.Range(0, rows).Select(i => i * (clusters - 1) / Math.Max(1, rows - 1))];
        double[] values = [.. Enumerable.Range(0, rows * columns).Select(i => Math.Sin(i + 1))];
        double[] multiplicities = [.. Enumerable.Range(0, clusters * ClusterSums.Block).Select(i => (double)(i * 7 % 5))];
        var sums = new ClusterSums(which, values, columns);
        double[] found = [.. Enumerable.Repeat(double.NaN, sums.SumsLength)];
        sums.Sum(multiplicities, found);
        for (int j = 0; j < columns; j++)
            for (int b = 0; b < ClusterSums.Block; b++)
            {
                double expected = Enumerable.Range(0, rows).Sum(r => values[r * columns + j] * multiplicities[which[r] * ClusterSums.Block + b]);
                Assert.Equal(expected, found[j * ClusterSums.Block + b], 1e-12);
            }
    }

    [Fact]
    public void Missing_values_and_room_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ClusterSums([0, 1], [1, 2, 3], 2));
        var sums = new ClusterSums([0, 3], [1, 2], 1);
        Assert.Throws<ArgumentException>(() => sums.Sum(new double[4 * ClusterSums.Block], new double[ClusterSums.Block]));
        Assert.Throws<ArgumentException>(() => sums.Sum(new double[3 * ClusterSums.Block], new double[sums.SumsLength]));
    }
}
