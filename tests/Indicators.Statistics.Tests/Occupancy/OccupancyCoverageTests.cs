using Indicators.Statistics.Intervals;
using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>
/// How often nominal 95 % intervals hold the truth, over 500 invented worlds a cell (Monte Carlo error 1 point), and whether
/// searches find the highest point. The test output lists every cell.
/// </summary>
public class OccupancyCoverageTests(ITestOutputHelper output)
{
    private const int Worlds = 500;

    [Fact]
    public void Profile_intervals_of_occupancy_hold_and_wald_intervals_hold_where_detection_is_good()
    {
        foreach (double psi in new[] { 0.2, 0.5, 0.8 })
            foreach (double p in new[] { 0.2, 0.4, 0.6 })
                foreach (int sites in new[] { 20, 60, 150 })
                    Check(new World(sites, 1, 3, psi, 0, 0, [p]));
    }

    private void Check(World world)
    {
        double psi = world.Psi;
        int wald = 0, waldHolds = 0, profile = 0, profileHolds = 0;
        for (uint key = 0; key < Worlds; key++)
        {
            var histories = world.Histories(key);
            var fit = SingleSeasonOccupancy.Fit(histories);
            if (fit.Occupancy(0)?.Interval is { } ends)
                (wald, waldHolds) = (wald + 1, waldHolds + (Holds(ends, psi) ? 1 : 0));
            if (ProfileInterval.Of(histories, fit, 0) is { } likely)
                (profile, profileHolds) = (profile + 1, profileHolds + (Holds(likely, psi) ? 1 : 0));
        }
        double waldShare = (double)waldHolds / wald, profileShare = (double)profileHolds / profile;
        output.WriteLine(FormattableString.Invariant(
            $"psi {psi} p {world.P[0]} sites {world.Sites}: Wald given {wald}, holds {waldShare:P1}; profile given {profile}, holds {profileShare:P1}"));
        Assert.InRange(profileShare, 0.92, 0.99);
        // A Wald interval is withheld at ψ = 1, and so fails on the low side where estimates of 1 are common: at p of 0.2 with
        // ψ of 0.8 it holds 84-88 % of the time. It is promised for p of 0.6 only.
        if (world.P[0] == 0.6)
            Assert.InRange(waldShare, 0.93, 0.99);
    }

    [Theory]
    [InlineData(60, 0.5)]
    [InlineData(150, 0.2)]
    [InlineData(150, 0.5)]
    public void Wald_intervals_of_derived_occupancy_hold_with_shared_rates(int sites, double p)
    {
        var world = new World(sites, 6, 3, 0.5, 0.1, 0.15, [p]);
        double[] truth = [0.5, 0, 0, 0, 0, 0];
        for (int t = 1; t < 6; t++)
            truth[t] = truth[t - 1] * 0.85 + (1 - truth[t - 1]) * 0.1;
        int[] given = new int[6], holds = new int[6];
        for (uint key = 0; key < Worlds; key++)
        {
            var fit = MultiSeasonOccupancy.Fit(world.Histories(key), TransitionGroups.Constant(6));
            for (int t = 0; t < 6; t++)
                if (fit.Occupancy(t)?.Interval is { } ends)
                    (given[t], holds[t]) = (given[t] + 1, holds[t] + (Holds(ends, truth[t]) ? 1 : 0));
        }
        for (int t = 0; t < 6; t++)
        {
            output.WriteLine(FormattableString.Invariant($"sites {sites} p {p} season {t}: given {given[t]}, holds {(double)holds[t] / given[t]:P1}"));
            Assert.InRange(given[t], 495, 500);
            Assert.InRange((double)holds[t] / given[t], 0.93, 0.98);
        }
    }

    [Fact]
    public void No_random_walk_finds_a_higher_point_and_every_search_settles()
    {
        int estimated = 0, oneStart = 0;
        for (uint key = 0; key < 400; key++)
        {
            var (a, b, c, d) = Philox.Block(key, 9, 9, 9, 1, 2);
            int slots = 1 + (int)(d % 3), seasons = 1 + (int)(b % 6);
            var world = new World(
                3 + (int)(a % 40), seasons, slots + (int)(c % 2), Share(a, 8), 0.6 * Share(b, 8), 0.8 * Share(c, 8),
                [.. Enumerable.Range(0, slots).Select(i => 0.05 + 0.9 * Share(d, 8 * i))])
            {
                Effect = key % 4 == 0 ? 1 : 0,
                SiteEffect = key % 5 == 0 ? 1 : 0,
                Made = key % 3 == 0 ? 0.6 : 1,
            };
            var histories = world.Histories(key);
            var groups = key % 2 == 0 ? TransitionGroups.Constant(seasons) : TransitionGroups.ByInterval(seasons);
            var fit = OccupancyTables.Fit(histories, groups);
            Assert.NotEqual(OccupancyStatus.NotConverged, fit.Status);
            if (!fit.HasEstimates)
                continue;
            estimated++;
            oneStart += fit.Starts == 1 ? 1 : 0;
            double found = Walk(new OccupancyLikelihood(histories, groups), [.. fit.Point.ToArray().Select(v => Math.Clamp(v, -20, 20))], key);
            Assert.True(found <= fit.LogLikelihood + 1e-6, FormattableString.Invariant($"world {key}: {fit.LogLikelihood:R}, but {found:R} exists"));
        }
        Assert.True(estimated > 250);
        // Where the first start's maximum is sharp, no other is tried: nor is a higher point found there.
        Assert.True(oneStart > 30, $"{oneStart} with one start");
    }

    /// <summary>From the estimate, random steps of four sizes, kept when they gain.</summary>
    private static double Walk(OccupancyLikelihood likelihood, double[] at, uint key)
    {
        double value = likelihood.Value(at);
        for (uint i = 0; i < 300; i++)
        {
            double size = new[] { 0.01, 0.1, 1, 3 }[i % 4];
            double[] tried = [.. at.Select((v, j) => v + size * (Philox.Block(i, (uint)j, key, 5, 3, 4).W0 / 2147483648.0 - 1))];
            double there = likelihood.Value(tried);
            if (there > value)
                (at, value) = (tried, there);
        }
        return value;
    }

    private static bool Holds(Interval interval, double truth) => interval.Lower <= truth && truth <= interval.Upper;

    private static double Share(uint word, int shift) => ((word >> shift & 255) + 0.5) / 256;
}
