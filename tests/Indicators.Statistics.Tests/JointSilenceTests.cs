using Indicators.Statistics.Groups;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public sealed class JointSilenceTests
{
    /// <summary>
    /// Hanley and Lippman-Hand (1983), <em>If nothing goes wrong, is everything all right?</em>, JAMA 249: 1743–1745: with no event among n, the 95 % upper
    /// end of its rate is 3/n; beside it the exact 1 − 0.05^(1/n) of the binomial, which Poisson encounters come to as n grows.
    /// </summary>
    [Theory]
    [InlineData(14)]
    [InlineData(100)]
    [InlineData(2000)]
    public void One_silent_series_follows_the_rule_of_three(int n)
    {
        double level = JointSilence.Levels([n], 0.95).Single();
        Assert.Equal(3.0 / n, level, 0.005 / n);
        double binomial = 1 - Math.Pow(0.05, 1.0 / n);
        Assert.InRange(level / binomial, 1, 1 + 2.0 / n);
    }

    [Theory]
    [InlineData(0.95)]
    [InlineData(0.8)]
    public void Several_are_together_silent_with_the_chance_that_is_left_and_no_other_levels_have_a_larger_product(double confidence)
    {
        double[] expected = [0.4, 2, 7.5, 30];
        double[] levels = JointSilence.Levels(expected, confidence);
        double silence = levels.Zip(expected, (x, e) => Math.Exp(-x * e)).Aggregate(1.0, (a, b) => a * b);
        Assert.Equal(1 - confidence, silence, 1e-12);

        double most = levels.Sum(Math.Log);
        var random = new UniformStream(1, 0, 0);
        for (int trial = 0; trial < 1000; trial++)
        {
            double[] shares = [.. expected.Select(_ => random.Next())];
            double other = expected.Select((e, j) => Math.Log(shares[j] / shares.Sum() * -Math.Log(1 - confidence) / e)).Sum();
            Assert.True(other <= most);
        }
    }

    [Fact]
    public void Nothing_silent_leaves_nothing_open_and_nonsense_is_refused()
    {
        Assert.Empty(JointSilence.Levels([], 0.95));
        Assert.Throws<ArgumentOutOfRangeException>(() => JointSilence.Levels([1, 0], 0.95));
        Assert.Throws<ArgumentOutOfRangeException>(() => JointSilence.Levels([1], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => JointSilence.Levels([1], 0));
    }

    /// <summary>
    /// Zou and Donner (2008), <em>Construction of confidence limits about effect measures</em>, Statistics in Medicine 27: 1693–1702, from memory: limits of a
    /// sum from each part's own. Of two normal parts they are the sum's own limits exactly.
    /// </summary>
    [Theory]
    [InlineData(0.3, 0.4, 0.5)]
    [InlineData(1, 0, 1)]
    [InlineData(0, 2, 2)]
    public void Upper_end_of_a_sum_counts_both_distances_by_their_squares(double byDraws, double open, double both) =>
        Assert.Equal(7 + both, JointSilence.Upper(7, 7 + byDraws, open), 1e-12);

    [Fact]
    public void Without_silence_the_end_by_the_draws_stays_also_below_the_estimate()
    {
        Assert.Equal(6.5, JointSilence.Upper(7, 6.5, 0));
        Assert.Equal(7.2, JointSilence.Upper(7, 6.5, 0.2), 1e-12);
    }
}
