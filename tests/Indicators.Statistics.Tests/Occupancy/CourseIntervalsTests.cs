using Indicators.Statistics.Occupancy;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

public class CourseIntervalsTests(ITestOutputHelper output)
{
    /// <summary>Frogs that stay: colonisation and extinction of 0.01 come out as 0 in many worlds.</summary>
    private static readonly World Staying = new(20, 8, 3, 0.5, 0.01, 0.01, [0.4]);

    [Fact]
    public void Rates_inside_their_bounds_have_the_wald_interval()
    {
        var histories = new World(80, 6, 3, 0.5, 0.15, 0.2, [0.5]).Histories(1);
        var fit = MultiSeasonOccupancy.Fit(histories, TransitionGroups.Constant(6));
        Assert.Equal(OccupancyStatus.Interior, fit.Status);
        var intervals = CourseIntervals.Of(histories, fit, 0.9);
        Assert.All(Enumerable.Range(0, 6), t => Assert.Equal(fit.Occupancy(t, 0.9)!.Value.Interval, intervals[t]));
        Assert.All(Enumerable.Range(0, fit.Layout.Count), place => Assert.Null(intervals.AtBoundary(place)));
    }

    [Fact]
    public void Rate_at_0_reaches_as_far_as_its_profile_and_makes_the_interval_no_narrower()
    {
        int seen = 0, still = 0;
        for (uint key = 0; key < 60; key++)
        {
            var histories = Staying.Histories(key);
            var fit = MultiSeasonOccupancy.Fit(histories, TransitionGroups.Constant(8));
            if (fit.Parameters[2].Status != EstimateStatus.AtZero || fit.Parameters[0].Status != EstimateStatus.Interior)
                continue;
            seen++;
            var intervals = CourseIntervals.Of(histories, fit, 0.95);
            var profile = ProfileInterval.Of(histories, fit, 2)!.Value;
            Assert.Equal(0, intervals.AtBoundary(2)!.Value.Lower);
            // Found to 0.001 of log-likelihood, not to the last digit.
            Assert.Equal(profile.Upper, intervals.AtBoundary(2)!.Value.Upper, 2e-3 * profile.Upper);
            for (int t = 0; t < 8; t++)
                Assert.InRange(fit.Occupancy(t)!.Value.Value, intervals[t]!.Value.Lower, intervals[t]!.Value.Upper);
            // Where nothing seems to come either, an extinction that may be more than 0 gives room below, a colonisation above,
            // both the more the later the season.
            if (fit.Parameters[1].Status != EstimateStatus.AtZero)
                continue;
            still++;
            Assert.True(intervals[7]!.Value.Lower < intervals[0]!.Value.Lower && intervals[7]!.Value.Upper > intervals[0]!.Value.Upper);
        }
        Assert.True(seen >= 20 && still >= 5, $"{seen} worlds at the bound, {still} with both rates there");
    }

    [Fact]
    public void Intervals_hold_where_rates_come_out_as_0_or_1()
    {
        double truth = 0.5;
        int bound = 0, given = 0, holds = 0;
        for (uint key = 0; key < 600; key++)
        {
            var histories = Staying.Histories(1000 + key);
            var fit = MultiSeasonOccupancy.Fit(histories, TransitionGroups.Constant(8));
            if (fit.Status != OccupancyStatus.Boundary)
                continue;
            bound++;
            if (CourseIntervals.Of(histories, fit, 0.95)[7] is not { } ends)
                continue;
            given++;
            holds += ends.Lower <= truth && truth <= ends.Upper ? 1 : 0;
        }
        output.WriteLine(FormattableString.Invariant($"{bound} of 600 at a bound, {given} with an interval, holds {(double)holds / given:0.000}"));
        Assert.True(bound > 200 && given > 0.98 * bound);
        Assert.InRange((double)holds / given, 0.92, 0.985);
    }

    [Fact]
    public void Occupancy_of_1_reaches_down_to_where_so_many_sites_heard_would_be_luck()
    {
        // No site is silent, so the likelihood in occupancy is ψ to the number of sites: n ln ψ = −χ²/2 at the lower end.
        var visits = from s in Enumerable.Range(0, 12) from v in Enumerable.Range(0, 3) select new Visit(s, 0, (s + v) % 3 != 0);
        var histories = new DetectionHistories(12, 1, [.. visits]);
        var fit = SingleSeasonOccupancy.Fit(histories);
        var interval = CourseIntervals.Of(histories, fit, 0.95)[0]!.Value;
        Assert.Equal(1, fit.Occupancy(0)!.Value.Value, 1e-12);
        Assert.Equal(1, interval.Upper);
        // 3.841458820694124 is the 0.95 quantile of chi-square with one degree of freedom (R: qchisq(.95, 1)).
        Assert.Equal(Math.Exp(-3.841458820694124 / 2 / 12), interval.Lower, 1e-4);
    }
}
