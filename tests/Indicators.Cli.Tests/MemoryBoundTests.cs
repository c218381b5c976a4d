using Indicators.Cli.Running;
using Xunit;

namespace Indicators.Cli.Tests;

/// <summary>What an analysis may take, by the size of its programme; the aim of 2 GB for a nation is our own.</summary>
public sealed class MemoryBoundTests
{
    [Fact]
    public void Nation_and_all_below_it_stay_under_two_gigabytes()
    {
        ulong nation = MemoryBound.Of(1_349_325, 25, 2000);
        Assert.InRange(nation, 1_600_000_000UL, 1_900_000_000UL);
        Assert.Equal(nation, MemoryBound.Of(70_000, 15, 2000));
        Assert.True(MemoryBound.Of(1_349_325, 25, 1000) < nation);
    }

    [Theory]
    [InlineData(2_698_650, 25, 2)]
    [InlineData(1_349_325, 50, 2)]
    [InlineData(2_698_650, 50, 4)]
    [InlineData(2_698_650, 5, 2)]
    public void Larger_programme_gets_room_in_proportion(long surveys, long species, int times) =>
        Assert.Equal(times * (double)MemoryBound.Of(1_349_325, 25, 1000), MemoryBound.Of(surveys, species, 1000), 1.0);
}
