using Indicators.Web.Reading;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class ApportionTests
{
    [Fact]
    public void Thirds_add_up_to_one() =>
        Assert.Equal([0.4m, 0.3m, 0.3m], Apportion.Tenths([1 / 3.0, 1 / 3.0, 1 / 3.0], 1.0m));

    [Fact]
    public void Largest_remainders_are_rounded_up_and_signs_kept() =>
        Assert.Equal([-1.2m, -0.3m, 0.5m], Apportion.Tenths([-1.24, -0.27, 0.51], -1.0m));

    [Fact]
    public void Shown_values_always_add_up_and_stay_within_a_step()
    {
        for (int seed = 1; seed <= 500; seed++)
        {
            // A plain congruential walk is enough to make values without a pattern.
            uint state = (uint)seed;
            var values = Enumerable.Range(0, 1 + seed % 40).Select(_ => ((state = state * 1664525 + 1013904223) % 4001 - 2000) / 173.0).ToList();
            decimal total = Apportion.Tenth(values.Sum());
            var shown = Apportion.Tenths(values, total);
            Assert.Equal(total, shown.Sum());
            Assert.All(shown.Zip(values), pair => Assert.InRange(Math.Abs(pair.First - (decimal)pair.Second), 0, 0.1001m));
        }
    }

    [Fact]
    public void Nothing_gives_nothing() => Assert.Empty(Apportion.Tenths([], 0));
}
