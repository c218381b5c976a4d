using Indicators.Statistics.Shocks;
using Xunit;

namespace Indicators.Statistics.Tests;

public class SeasonCarryOverTests
{
    [Fact]
    public void Form_is_the_sum_over_all_pairs_of_seasons()
    {
        double[] one = [0.4, -1.1, 0.3, 0.9], other = [-0.2, 0.7, 1.3];
        int[] seasons = [2010, 2011, 2014, 2015], others = [2009, 2011, 2040];
        double expected = 0;
        for (int t = 0; t < 4; t++)
            for (int u = 0; u < 3; u++)
                expected += one[t] * other[u] * Math.Pow(0.3, Math.Abs(seasons[t] - others[u]));
        Assert.Equal(expected, SeasonCarryOver.Form(one, seasons, other, others, 0.3), 1e-15);
        Assert.Equal(expected, SeasonCarryOver.Form(other, others, one, seasons, 0.3), 1e-15);
        Assert.Equal(0, SeasonCarryOver.Form([], [], other, others, 0.3));
    }

    [Fact]
    public void Widening_comes_to_that_of_a_mean_of_correlated_values_in_long_series() =>
        // The variance of a slope over many seasons grows by (1 + ρ) / (1 − ρ), as that of a mean does.
        Assert.Equal(1.2 / 0.8, SeasonCarryOver.Widening(500), 0.02);

    [Fact]
    public void Widening_of_few_seasons_lies_between()
    {
        double[] widening = [.. new[] { 5, 8, 12, 20, 40 }.Select(SeasonCarryOver.Widening)];
        Assert.All(widening, w => Assert.InRange(w, 1, 1.8));
    }

    [Fact]
    public void Evidence_of_several_areas_meets_where_its_sum_does()
    {
        // Straight lines through 0 at -0.5 and at 0.7, the second twice as steep: their sum is 0 at 0.3, the margin beyond is 0.15.
        double[] first = [.. Enumerable.Range(0, 15).Select(i => -0.5 - (-0.05 + 0.05 * i)), 0.4], second = [.. Enumerable.Range(0, 15).Select(i => 2 * (0.7 - (-0.05 + 0.05 * i))), 0.3];
        Assert.Equal(0.45, SeasonCarryOver.Together([first, second]), 1e-9);
        Assert.Equal(0.1, SeasonCarryOver.Together([first]), 1e-9);
        Assert.Equal(0.8, SeasonCarryOver.Together([second]), 1e-9);
        Assert.Equal(0.2, SeasonCarryOver.Together([SeasonCarryOver.NoEvidence]));
        // An area in which less than nothing shows takes away what another shows.
        first[15] = -0.4;
        Assert.Equal(0.2, SeasonCarryOver.Together([first, second]));
    }

    [Fact]
    public void Two_slopes_go_together_as_far_as_they_hang_on_the_same_seasons()
    {
        double[] one = [0.5, -0.5], other = [0.2, 0.1, -0.3];
        int[] early = [2010, 2011], longer = [2010, 2011, 2012], far = [2100, 2101];
        Assert.Equal(1, SeasonCarryOver.CorrelationOf(one, early, one, early, 0.2), 1e-15);
        Assert.Equal(-1, SeasonCarryOver.CorrelationOf(one, early, [-1, 1], early, 0.2), 1e-15);
        Assert.Equal(0, SeasonCarryOver.CorrelationOf(one, early, one, far, 0.2), 1e-15);
        // R: with S <- 0.2^abs(outer(0:2, 0:2, "-")), h <- c(.5, -.5, 0), g <- c(.2, .1, -.3):
        // drop(h %*% S %*% g) / sqrt(drop(h %*% S %*% h) * drop(g %*% S %*% g)).
        Assert.Equal(0.2793721183, SeasonCarryOver.CorrelationOf(one, early, other, longer, 0.2), 1e-10);
        Assert.Equal(1, SeasonCarryOver.CorrelationOf([0, 0], early, other, longer, 0.2));
    }
}
