using Indicators.Statistics.Occupancy;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>What must not change an occupancy fit, and what must change it in a known way.</summary>
public class OccupancyInvariantsTests
{
    private static readonly World World = new(80, 4, 3, 0.6, 0.2, 0.25, [0.3, 0.6, 0.4]) { Effect = 0.8, SiteEffect = 1, Made = 0.7 };

    private static readonly TransitionGroups Groups = TransitionGroups.Constant(4);

    private static void AssertSame(OccupancyFit a, OccupancyFit b, double valueRatio = 1, double tolerance = 1e-9)
    {
        Assert.Equal(OccupancyStatus.Interior, a.Status);
        Assert.Equal(a.Status, b.Status);
        Assert.Equal(a.LogLikelihood * valueRatio, b.LogLikelihood, tolerance * Math.Abs(a.LogLikelihood));
        Assert.Equal(a.Layout, b.Layout);
        for (int j = 0; j < a.Parameters.Length; j++)
        {
            Assert.Equal(a.Parameters[j].Estimate!.Value, b.Parameters[j].Estimate!.Value, tolerance);
            Assert.Equal(a.Parameters[j].StandardError!.Value / Math.Sqrt(valueRatio), b.Parameters[j].StandardError!.Value, tolerance);
        }
    }

    [Fact]
    public void Weight_two_equals_the_site_written_twice()
    {
        var (visits, x, w) = World.Draw(1);
        double[] weights = [.. Enumerable.Range(0, 80).Select(s => s % 3 == 0 ? 2.0 : 1)];
        Visit[] again = [.. visits.Where(v => v.Site % 3 == 0).Select(v => v with { Site = 80 + v.Site / 3 })];
        double[] againX = [.. visits.Zip(x).Where(p => p.First.Site % 3 == 0).Select(p => p.Second)];
        double[] againW = [.. w.Where((_, s) => s % 3 == 0)];
        var weighted = new DetectionHistories(80, 4, visits, 3, x, w, weights);
        var doubled = new DetectionHistories(80 + 27, 4, [.. visits, .. again], 3, [.. x, .. againX], [.. w, .. againW]);
        AssertSame(MultiSeasonOccupancy.Fit(weighted, Groups), MultiSeasonOccupancy.Fit(doubled, Groups));
        AssertSame(MultiSeasonOccupancy.Fit(weighted, Groups), MultiSeasonOccupancy.Fit(World.Histories(1).WithWeights(weights), Groups));
    }

    [Fact]
    public void Weight_zero_equals_the_site_left_out()
    {
        var (visits, x, w) = World.Draw(2);
        var without = new DetectionHistories(70, 4, [.. visits.Where(v => v.Site < 70)], 3, [.. visits.Zip(x).Where(p => p.First.Site < 70).Select(p => p.Second)], w.AsSpan(0, 70));
        double[] weights = [.. Enumerable.Range(0, 80).Select(s => s < 70 ? 1.0 : 0)];
        AssertSame(MultiSeasonOccupancy.Fit(without, Groups), MultiSeasonOccupancy.Fit(World.Histories(2).WithWeights(weights), Groups));
    }

    [Fact]
    public void Common_weight_changes_the_errors_only()
    {
        double[] threes = [.. Enumerable.Repeat(3.0, 80)];
        AssertSame(MultiSeasonOccupancy.Fit(World.Histories(3), Groups), MultiSeasonOccupancy.Fit(World.Histories(3).WithWeights(threes), Groups), 3);
    }

    [Fact]
    public void Order_of_visits_and_sites_does_not_matter()
    {
        var (visits, x, w) = World.Draw(4);
        int[] order = [.. Enumerable.Range(0, visits.Length).OrderBy(i => i * 7919 % visits.Length)];
        Assert.NotEqual(order.Order(), order);
        Visit[] mixed = [.. order.Select(i => visits[i] with { Site = 79 - visits[i].Site })];
        double[] reversedW = [.. w.Reverse()];
        AssertSame(
            MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, visits, 3, x, w), Groups),
            MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, mixed, 3, [.. order.Select(i => x[i])], reversedW), Groups));
    }

    [Fact]
    public void Missing_visit_is_a_visit_that_is_not_there()
    {
        double nan = double.NaN;
        double[] table = [1, nan, 0, 0, 0, 0, nan, 1, 1, nan, 0, nan, 0, 1, 0, nan, nan, nan];
        Visit[] listed = [.. table.Select((y, i) => (y, i)).Where(c => !double.IsNaN(c.y)).Select(c => new Visit(c.i / 3, 0, c.y == 1))];
        AssertSame(SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(6, table)), SingleSeasonOccupancy.Fit(new DetectionHistories(6, 1, listed)));
        // The last site was never visited: it may as well not exist.
        AssertSame(SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(6, table)), SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(5, table.AsSpan(0, 15))));
    }

    [Fact]
    public void Seasons_without_visits_at_the_end_change_nothing_and_follow_the_rates()
    {
        var (visits, x, w) = World.Draw(5);
        var four = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, visits, 3, x, w), Groups);
        var six = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 6, visits, 3, x, w), TransitionGroups.Constant(6));
        AssertSame(four, six);
        double g = six.Colonisation(0)!.Value.Value, e = six.Extinction(0)!.Value.Value, psi = four.Occupancy(3)!.Value.Value;
        Assert.Equal(psi * (1 - e) + (1 - psi) * g, six.Occupancy(4)!.Value.Value, 1e-9);
        double[,] chances = MultiSeasonOccupancy.ChancesPresent(new DetectionHistories(80, 6, visits, 3, x, w), six)!;
        for (int s = 0; s < 80; s++)
            Assert.Equal(chances[s, 4] * (1 - e) + (1 - chances[s, 4]) * g, chances[s, 5], 1e-12);
    }

    [Fact]
    public void Slots_are_the_same_as_indicator_covariates()
    {
        var (visits, _, _) = (World with { Effect = 0, SiteEffect = 0 }).Draw(6);
        var slots = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, visits, 3), Groups);
        double[] indicators = [.. visits.SelectMany(v => new[] { v.Slot == 1 ? 1.0 : 0, v.Slot == 2 ? 1.0 : 0 })];
        var effects = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, [.. visits.Select(v => v with { Slot = 0 })], 1, indicators), Groups);
        Assert.Equal(slots.LogLikelihood, effects.LogLikelihood, 1e-9);
        for (int t = 0; t < 4; t++)
            Assert.Equal(slots.Occupancy(t)!.Value.StandardError!.Value, effects.Occupancy(t)!.Value.StandardError!.Value, 1e-9);
        Assert.Equal(slots.Detection(2)!.Value.Interval!.Value.Upper, effects.Detection(0, [0, 1])!.Value.Interval!.Value.Upper, 1e-9);
    }

    [Fact]
    public void Centring_and_scaling_a_covariate_change_its_effect_alone()
    {
        var (visits, x, w) = World.Draw(7);
        var plain = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, visits, 3, x, w), Groups);
        var scaled = MultiSeasonOccupancy.Fit(new DetectionHistories(80, 4, visits, 3, [.. x.Select(v => (v - 0.3) * 2)], [.. w.Select(v => v + 1)]), Groups);
        Assert.Equal(plain.LogLikelihood, scaled.LogLikelihood, 1e-9);
        Assert.Equal(plain.Parameters[^1].Estimate!.Value / 2, scaled.Parameters[^1].Estimate!.Value, 1e-9);
        for (int t = 0; t < 4; t++)
            Assert.Equal(plain.Occupancy(t)!.Value.Interval!.Value.Lower, scaled.Occupancy(t)!.Value.Interval!.Value.Lower, 1e-9);
    }

    [Fact]
    public void Without_turnover_many_seasons_are_one_long_season()
    {
        // γ and ε held at 0 by hand: the likelihood of all visits put together.
        var (visits, _, _) = (World with { Effect = 0, SiteEffect = 0, Colonise = 1e-12, Vanish = 1e-12 }).Draw(8);
        var many = new OccupancyLikelihood(new DetectionHistories(80, 4, visits, 3), Groups);
        var one = new OccupancyLikelihood(new DetectionHistories(80, 1, [.. visits.Select(v => v with { Season = 0 })], 3), TransitionGroups.None);
        double none = double.NegativeInfinity;
        Assert.Equal(one.Value([0.4, -0.5, 0.2, 0.1]), many.Value([0.4, none, none, -0.5, 0.2, 0.1]), 1e-10);
    }
}
