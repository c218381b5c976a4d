using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class UniformStreamTests
{
    private static double[] Numbers(ulong seed, ulong stream, uint number, int count)
    {
        var random = new UniformStream(seed, stream, number);
        return [.. Enumerable.Range(0, count).Select(_ => random.Next())];
    }

    [Fact]
    public void Stream_depends_on_seed_name_and_number_and_on_nothing_else()
    {
        double[] numbers = Numbers(1, 2, 3, 50);

        Assert.Equal(numbers, Numbers(1, 2, 3, 50));
        Assert.All([Numbers(2, 2, 3, 50), Numbers(1, 3, 3, 50), Numbers(1, 2, 4, 50), Numbers(1UL << 32 | 1, 2, 3, 50), Numbers(1, 1UL << 32 | 2, 3, 50)],
            other => Assert.Empty(other.Intersect(numbers)));
    }

    [Fact]
    public void First_numbers_are_the_words_of_the_generator()
    {
        // The generator itself is held to published vectors in PhiloxTests.
        var (w0, w1, w2, w3) = Philox.Block(0, 3, 2, 0, 1, 0);
        Assert.Equal([.. new[] { w0, w1, w2, w3 }.Select(w => w / 4294967296.0)], Numbers(1, 2, 3, 4));
    }

    [Fact]
    public void Numbers_have_the_moments_of_their_distributions()
    {
        const int Count = 40_000;
        double[] uniform = Numbers(5, 6, 7, Count);
        var random = new UniformStream(5, 6, 8);
        double[] normal = [.. Enumerable.Range(0, Count).Select(_ => random.Normal())];

        // Five standard errors: √(1/12n), √(1/n), √(2/n).
        Assert.All(uniform, x => Assert.True(x is >= 0 and < 1));
        Assert.Equal(0.5, uniform.Average(), 5 * Math.Sqrt(1.0 / 12 / Count));
        Assert.Equal(0, normal.Average(), 5 * Math.Sqrt(1.0 / Count));
        Assert.Equal(1, normal.Average(z => z * z), 5 * Math.Sqrt(2.0 / Count));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(11)]
    [InlineData(41)]
    public void Nodes_stand_for_a_standard_normal_variable(int count)
    {
        double[] nodes = NormalNodes.Of(count);

        Assert.Equal(count, nodes.Length);
        Assert.Equal(nodes.Order(), nodes);
        Assert.Equal(0, nodes.Average(), 1e-12);
        Assert.Equal(1, nodes.Average(z => z * z), 1e-12);
        // E e^{z/2} = e^{1/8}: what the nodes are used for, to 1 % from eleven on.
        if (count > 2)
            Assert.InRange(nodes.Average(z => Math.Exp(z / 2)) / Math.Exp(1.0 / 8), 0.99, 1.01);
    }
}
