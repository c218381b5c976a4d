using Indicators.Statistics.Groups;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

/// <summary>
/// The linear part of draws against what is known of the multinomial distribution: var Σ a_j m_j = Σ a_j² − (Σ a_j)²/K, and Σ m_j² = K + 2 times the pairs of
/// draws that fell on the same cluster, which are pairwise independent with chance 1/K, so that its variance is 2 (K − 1)²/K; by symmetry it goes together
/// with no m_j. Common knowledge of the birthday problem, no source.
/// </summary>
public sealed class LinearPartTests
{
    private const int Clusters = 12, Resamples = 8000;

    private readonly ResamplingPlan _plan = new(20261129, 3, Clusters);

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(2)]
    public void Share_is_that_of_the_linear_part_in_the_variance(double bend)
    {
        double[] slopes = [.. Enumerable.Range(0, Clusters).Select(j => Math.Sin(3 * j))];
        double linear = slopes.Sum(a => a * a) - slopes.Sum() * slopes.Sum() / Clusters;
        double rest = bend * bend * 2 * (Clusters - 1) * (Clusters - 1) / Clusters;
        double[] draws = Drawn(m => m.Select((times, j) => slopes[j] * times + bend * times * times).Sum());
        Assert.Equal(Math.Sqrt(linear / (linear + rest)), new LinearPart(_plan, draws, 1).Share([1]), 0.01);
    }

    [Fact]
    public void Log_of_a_sum_of_few_calls_bends_and_of_many_hardly()
    {
        double Share(double floor) => new LinearPart(_plan, Drawn(m => Math.Log(floor + m.Take(3).Sum())), 1).Share([1]);
        double few = Share(0.2), many = Share(100);
        Assert.InRange(few, 0.7, 0.95);
        Assert.InRange(many, 0.98, 1);
    }

    [Fact]
    public void Sums_of_quantities_are_told_from_the_same_covariances_and_what_is_not_asked_for_may_be_lost()
    {
        double[] one = Drawn(m => m[0] + 0.5 * m[1] * m[1]), other = Drawn(m => Math.Log(1 + m[2]));
        double[] both = [.. one.Zip(other).SelectMany((pair, b) => new[] { pair.First, b % 3 == 0 ? double.NaN : 0, pair.Second })];
        double[] difference = [.. one.Zip(other, (x, y) => x - y)];
        var parts = new LinearPart(_plan, both, 3);
        Assert.Equal(new LinearPart(_plan, difference, 1).Share([1]), parts.Share([1, 0, -1]), 1e-9);
        Assert.Equal(new LinearPart(_plan, one, 1).Share([1]), parts.Share([1, 0, 0]), 1e-9);
    }

    [Fact]
    public void Draws_that_do_not_vary_and_very_many_clusters_count_as_linear()
    {
        Assert.Equal(1, new LinearPart(_plan, Drawn(_ => 4), 1).Share([1]));
        var wide = new ResamplingPlan(1, 1, 513);
        Assert.Equal(1, new LinearPart(wide, [.. Enumerable.Range(0, 50).Select(b => (double)b * b)], 1).Share([1]));
    }

    private double[] Drawn(Func<int[], double> of)
    {
        var multiplicities = new int[Clusters];
        return [.. Enumerable.Range(0, Resamples).Select(b =>
        {
            _plan.Draw(b, multiplicities);
            return of(multiplicities);
        })];
    }
}
