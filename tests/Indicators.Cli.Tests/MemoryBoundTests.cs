using Indicators.Cli.Running;
using Indicators.Storage.Surveys;
using Xunit;

namespace Indicators.Cli.Tests;

/// <summary>What an analysis may take, by the size of its programme; the aim of 2 GB for a nation is our own.</summary>
public sealed class MemoryBoundTests
{
    private static readonly StoredSize State = new(67_467, 15, 1200, 20), Nation = new(1_349_325, 25, 16_000, 30);

    [Fact]
    public void State_stays_well_under_half_a_gigabyte_and_a_nation_under_two()
    {
        Assert.InRange(MemoryBound.Of(State, 1000), 320_000_000UL, 380_000_000UL);
        Assert.InRange(MemoryBound.Of(State, 2000), 320_000_000UL, 400_000_000UL);
        Assert.InRange(MemoryBound.Of(Nation, 1000), 1_700_000_000UL, 1_900_000_000UL);
        Assert.InRange(MemoryBound.Of(Nation, 2000), 1_700_000_000UL, 1_900_000_000UL);
    }

    /// <summary>Draws are numbers of eight bytes: of an area with 60 species and 30 seasons at least as many as resamples of an index, a slope, its residual and its course.</summary>
    [Fact]
    public void Many_species_seasons_and_resamples_get_room_for_their_draws()
    {
        var wide = State with { Species = 60, Seasons = 30 };
        Assert.True(MemoryBound.Of(wide, 2000) - MemoryBound.Of(wide, 1000) >= 4UL * 8 * 60 * 30 * 1000);
        Assert.True(MemoryBound.Of(wide with { Seasons = 60 }, 1000) > 2 * MemoryBound.Of(wide, 1000) - MemoryBound.Of(wide with { Seasons = 0 }, 1000));
        Assert.Equal(MemoryBound.Of(wide with { Wetlands = 100_000 }, 1000), MemoryBound.Of(wide with { Wetlands = 1024 }, 1000));
    }

    [Theory]
    [InlineData(2_698_650, 25, 2)]
    [InlineData(1_349_325, 50, 2)]
    [InlineData(2_698_650, 50, 4)]
    [InlineData(2_698_650, 5, 2)]
    public void Larger_programme_gets_room_in_proportion_above_what_every_programme_gets(long surveys, long species, int times)
    {
        double least = MemoryBound.Of(new StoredSize(0, 0, 0, 0), 1000);
        Assert.Equal(
            times * (MemoryBound.Of(Nation with { Seasons = 0 }, 1000) - least),
            MemoryBound.Of(new StoredSize(surveys, species, 1, 0), 1000) - least,
            4.0);
    }

    [Fact]
    public void Work_that_wants_more_is_begun_again_with_twice_as_much_up_to_all_there_is()
    {
        var set = new List<ulong>();
        var bound = new MemoryBound(100, 350, set.Add);
        int begun = 0;
        Assert.Equal("done", bound.Within(() => ++begun < 3 ? throw Want(begun) : "done"));
        Assert.Equal([100UL, 200UL, 350UL, 350UL], set);
        Assert.Equal(3, begun);
    }

    [Fact]
    public void Want_of_more_than_there_is_and_every_other_failure_are_thrown_as_they_are()
    {
        var set = new List<ulong>();
        Assert.Throws<InsufficientMemoryException>(() => new MemoryBound(100, 150, set.Add).Within<int>(() => throw new InsufficientMemoryException()));
        Assert.Equal([100UL, 150UL, 150UL], set);
        set.Clear();
        Assert.Throws<AggregateException>(() => new MemoryBound(100, 150, set.Add).Within<int>(() => throw new AggregateException(new IOException())));
        Assert.Equal([100UL, 150UL], set);
    }

    [Fact]
    public void Work_done_gives_the_process_all_there_is_again()
    {
        var set = new List<ulong>();
        Assert.Equal(1, new MemoryBound(100, 350, set.Add).Within(() => set.Count));
        Assert.Equal([100UL, 350UL], set);
    }

    [Fact]
    public void Machine_with_less_than_the_bound_gets_none()
    {
        var set = new List<ulong>();
        Assert.Equal(1, new MemoryBound(100, 100, set.Add).Within(() => 1));
        Assert.Empty(set);
    }

    /// <summary>As the engine's threads hand it on: by itself, or among others.</summary>
    private static Exception Want(int round) =>
        round == 1 ? new InsufficientMemoryException() : new AggregateException(new AggregateException(new IOException(), new InsufficientMemoryException()));
}
