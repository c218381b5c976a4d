using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class PhiloxTests
{
    // Known answers of philox4x32-10 published with Salmon, Moraes, Dror and Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3".
    [Theory]
    [InlineData(0u, 0u, 0u, 0u, 0u, 0u, 0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u)]
    [InlineData(0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0xffffffffu, 0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu)]
    [InlineData(0x243f6a88u, 0x85a308d3u, 0x13198a2eu, 0x03707344u, 0xa4093822u, 0x299f31d0u, 0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u)]
    public void Block_gives_the_published_words(
        uint c0, uint c1, uint c2, uint c3, uint k0, uint k1, uint w0, uint w1, uint w2, uint w3) =>
        Assert.Equal((w0, w1, w2, w3), Philox.Block(c0, c1, c2, c3, k0, k1));

    [Fact]
    public void Plan_draws_as_many_as_there_are_clusters_and_repeats_itself()
    {
        var plan = new ResamplingPlan(7, 99, 13);
        int[] first = new int[13], again = new int[13], other = new int[13];
        plan.Draw(5, first);
        plan.Draw(6, other);
        new ResamplingPlan(7, 99, 13).Draw(5, again);
        Assert.Equal(13, first.Sum());
        Assert.Equal(first, again);
        Assert.NotEqual(first, other);
    }

    [Fact]
    public void Plan_draws_every_cluster_alike()
    {
        const int clusters = 7, resamples = 20_000;
        var plan = new ResamplingPlan(1, 1, clusters);
        var total = new long[clusters];
        long squares = 0;
        var draw = new int[clusters];
        for (int b = 0; b < resamples; b++)
        {
            plan.Draw(b, draw);
            for (int c = 0; c < clusters; c++)
            {
                total[c] += draw[c];
                squares += draw[c] * draw[c];
            }
        }

        // Multinomial(n = 7, p = 1/7): chi-square on 6 degrees of freedom stays below 22.46 with probability 0.999;
        // E[multiplicity²] = Var + mean² = 6/7 + 1, with a standard error near 0.004 here.
        double expected = resamples;
        double chiSquare = total.Sum(n => (n - expected) * (n - expected) / expected);
        Assert.InRange(chiSquare, 0.2, 22.46);
        Assert.InRange((double)squares / (resamples * clusters), 1 + 6.0 / 7 - 0.02, 1 + 6.0 / 7 + 0.02);
    }
}
