using Indicators.Statistics.Occupancy;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>Silence: limits, and that all its ways of being asked agree.</summary>
public class AbsenceTests
{
    [Fact]
    public void Visits_needed_at_the_limits()
    {
        Assert.Null(Absence.VisitsFor(0, 0.05));
        Assert.Equal(new VisitsNeeded(0, 1), Absence.VisitsFor(1, 0.05));
        Assert.Equal(1, Absence.VisitsFor(0.95, 0.05)!.Value.Whole);
        Assert.Equal(2, Absence.VisitsFor(0.949, 0.05)!.Value.Whole);
        Assert.Equal(2995731, Absence.VisitsFor(1e-6, 0.05)!.Value.Whole);
        Assert.Throws<ArgumentOutOfRangeException>(() => Absence.VisitsFor(0.5, 0));
    }

    [Fact]
    public void Visits_printed_for_the_easiest_snake_are_those_needed()
    {
        // Durso, Willson & Winne 2011 (Biological Conservation 144: 1508), abstract: detection .46 needs 5 visits at 95 %. Its other end does
        // not follow from the same formula: at .03 it would be 99 visits, the abstract has 63 (rounding of .03 cannot explain it).
        Assert.Equal(5, Absence.VisitsFor(0.46, 0.05)!.Value.Whole);
        Assert.Equal(99, Absence.VisitsFor(0.03, 0.05)!.Value.Whole);
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(0.3)]
    [InlineData(0.5)]
    [InlineData(0.95)]
    [InlineData(1.0)]
    public void Visits_that_are_alike_need_as_many_as_one_of_them_repeated(double p)
    {
        foreach (double alpha in new[] { 0.2, 0.05, 0.01 })
            foreach (int runs in new[] { 1, 3, 7 })
                Assert.Equal(Absence.VisitsFor(p, alpha)!.Value.Whole, Absence.VisitsFor([.. Enumerable.Repeat(p, runs)], alpha));
    }

    [Fact]
    public void Visits_that_differ_are_counted_until_silence_is_rare_enough()
    {
        double[] runs = [0, 0.6, 0.2];
        int visits = Absence.VisitsFor(runs, 0.05)!.Value;
        double[] taken = [.. Enumerable.Range(0, visits).Select(i => runs[i % 3])];
        Assert.True(Absence.Silence(taken) <= 0.05);
        Assert.True(Absence.Silence(taken[..^1]) > 0.05);
        Assert.Null(Absence.VisitsFor([0, 0], 0.05));
    }

    [Fact]
    public void Chance_present_is_certain_with_a_detection_and_the_start_without_visits()
    {
        Assert.Equal(1, Absence.ChancePresent(0.2, [0.1], detected: true));
        Assert.Equal(0.2, Absence.ChancePresent(0.2, []), 1e-15);
        Assert.Equal(0, Absence.ChancePresent(0.2, [1]));
        Assert.Equal(1, Absence.ChancePresent(1, [0.9]));
        Assert.Equal(Absence.ChancePresent(Absence.ChancePresent(0.6, [0.3]), [0.5]), Absence.ChancePresent(0.6, [0.5, 0.3]), 1e-15);
    }

    [Fact]
    public void Chance_present_agrees_with_the_forward_probability_of_one_season()
    {
        var histories = new World(50, 1, 3, 0.6, 0, 0, [0.3, 0.6, 0.4]) { Made = 0.7 }.Histories(9);
        var fit = SingleSeasonOccupancy.Fit(histories);
        double[,] chances = MultiSeasonOccupancy.ChancesPresent(histories, fit)!;
        var (visits, _, _) = (new World(50, 1, 3, 0.6, 0, 0, [0.3, 0.6, 0.4]) { Made = 0.7 }).Draw(9);
        for (int s = 0; s < 50; s++)
        {
            double[] p = [.. visits.Where(v => v.Site == s).Select(v => fit.Detection(v.Slot)!.Value.Value)];
            Assert.Equal(Absence.ChancePresent(fit.Occupancy(0)!.Value.Value, p, histories.DetectedIn(s, 0)), chances[s, 0], 1e-14);
        }
    }

    [Fact]
    public void Chance_of_silence_is_large_for_the_seldom_and_small_for_the_constant()
    {
        // 2 of 20 and then 5 silent: common. 18 of 20 and then 5 silent: not.
        Assert.Equal(20.0 * 19 / (25 * 24), SilenceByChance.Of(2, 20, 5), 1e-15);
        Assert.True(SilenceByChance.Of(18, 20, 5) < 0.001);
        Assert.Equal(1, SilenceByChance.Of(0, 0, 5));
        Assert.Equal(1, SilenceByChance.Of(3, 5, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => SilenceByChance.Of(4, 3, 5));
    }

    [Fact]
    public void Chance_of_silence_forgives_visits_that_seldom_detect()
    {
        double[] with = [1, 1, 1, 1];
        double good = SilenceByChance.Of(3, with, [1, 1, 1]), poor = SilenceByChance.Of(3, with, [0.05, 0.05, 0.05]);
        Assert.True(good < 0.2 && poor > 0.8);
        // A common factor of the odds is no difference, and the order within a part none either.
        Assert.Equal(SilenceByChance.Of(2, [1, 2, 3], [4, 0.5]), SilenceByChance.Of(2, [3e6, 1e6, 2e6], [0.5e6, 4e6]), 1e-12);
    }

    [Fact]
    public void Chance_of_silence_holds_for_many_visits()
    {
        double[] many = [.. Enumerable.Repeat(0.2, 3000)];
        double[] silent = [.. Enumerable.Repeat(0.2, 20)];
        Assert.Equal(1, SilenceByChance.Of(900, many, silent) / SilenceByChance.Of(900, 3000, 20), 1e-9);
        Assert.Equal(1, SilenceByChance.Of(3000, many, silent) / SilenceByChance.Of(3000, 3000, 20), 1e-9);
    }

    [Fact]
    public void Silence_since_the_last_detection_is_as_rare_as_it_says()
    {
        // Detections spread at random over 12 visits: "the silence at the end is at least this unlikely" must not happen more
        // often than it claims, although the silence is counted from the last detection. All 12-bit histories with 4 detections.
        var chances = new List<double>();
        for (int bits = 0; bits < 1 << 12; bits++)
        {
            if (System.Numerics.BitOperations.PopCount((uint)bits) != 4)
                continue;
            int last = 31 - System.Numerics.BitOperations.LeadingZeroCount((uint)bits) + 1;
            chances.Add(SilenceByChance.Of(4, last, 12 - last));
        }
        foreach (double chance in chances.Distinct())
            Assert.Equal(chance, chances.Count(c => c <= chance + 1e-12) / (double)chances.Count, 1e-12);
    }
}
