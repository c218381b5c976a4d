using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests;

/// <summary>Every boundary is an answer: what exists follows from which units link which periods, worked out by hand.</summary>
public class BoundaryTests
{
    private static PanelCounts Panel(int periods, double[] y, double[] n) =>
        new([.. Enumerable.Range(0, periods).Select(t => 2000.0 + t)], y, n);

    [Fact]
    public void All_calls_in_first_seasons_fall_without_bound()
    {
        var slope = TrendFit.Of(Panel(3, [2, 0, 0, 0, 3, 0], [1, 1, 1, 0, 1, 1]));
        Assert.Equal((SlopeStatus.MinusInfinity, double.NegativeInfinity), (slope.Status, slope.Value));
    }

    [Fact]
    public void All_calls_in_last_seasons_rise_without_bound()
    {
        var slope = TrendFit.Of(Panel(3, [0, 0, 4, 0, 3, 0], [1, 1, 1, 1, 1, 0]));
        Assert.Equal(SlopeStatus.PlusInfinity, slope.Status);
    }

    [Fact]
    public void Opposite_pulls_give_a_finite_slope() =>
        Assert.Equal(0, TrendFit.Of(Panel(2, [3, 0, 0, 3], [1, 1, 1, 1])).Value, 1e-12);

    [Fact]
    public void Units_seen_once_say_nothing() =>
        Assert.Equal(SlopeStatus.None, TrendFit.Of(Panel(2, [3, 0, 0, 2], [1, 0, 0, 1])).Status);

    [Fact]
    public void Silent_season_is_zero_and_the_rest_stands()
    {
        var fit = PeriodFit.Of(Panel(3, [2, 0, 4, 1, 0, 2], [1, 1, 1, 1, 1, 1]), [true, false, false]);
        Assert.Equal([PeriodStatus.Linked, PeriodStatus.ForcedToZero, PeriodStatus.Linked], Statuses(fit, 3));
        Assert.Equal(Math.Log(2), fit.Effects[2] - fit.Effects[0], 1e-12);
    }

    [Fact]
    public void Silent_baseline_has_no_index() =>
        Assert.False(PeriodFit.Of(Panel(3, [0, 1, 4, 0, 1, 2], [1, 1, 1, 1, 1, 1]), [true, false, false]).Succeeded);

    [Fact]
    public void Partly_silent_baseline_keeps_its_index()
    {
        var fit = PeriodFit.Of(Panel(3, [0, 1, 4, 0, 1, 2], [1, 1, 1, 1, 1, 1]), [true, true, false]);
        Assert.Equal([PeriodStatus.ForcedToZero, PeriodStatus.Linked, PeriodStatus.Linked], Statuses(fit, 3));
    }

    [Fact]
    public void Separation_without_a_silent_season_is_found()
    {
        // Unit 1 hears in seasons 1 and 2 only, and was also surveyed in 3 and 4; unit 2 hears in 3 and 4, never surveyed before.
        var panel = Panel(4, [1, 2, 0, 0, 0, 0, 3, 1], [1, 1, 1, 1, 0, 0, 1, 1]);
        Assert.Equal(
            [PeriodStatus.Linked, PeriodStatus.Linked, PeriodStatus.ForcedToZero, PeriodStatus.ForcedToZero],
            Statuses(PeriodFit.Of(panel, [true, true, false, false]), 4));
        Assert.Equal(
            [PeriodStatus.NotLinked, PeriodStatus.NotLinked, PeriodStatus.Linked, PeriodStatus.Linked],
            Statuses(PeriodFit.Of(panel, [false, false, true, true]), 4));
    }

    [Fact]
    public void Baseline_split_over_unlinked_seasons_has_no_index() =>
        Assert.False(PeriodFit.Of(Panel(4, [1, 2, 0, 0, 0, 0, 3, 1], [1, 1, 0, 0, 0, 0, 1, 1]), [true, false, true, false]).Succeeded);

    [Fact]
    public void One_unit_follows_its_own_rates()
    {
        var fit = PeriodFit.Of(Panel(3, [2, 6, 3], [1, 2, 3]), [true, false, false]);
        Assert.Equal(Math.Log(1.5), fit.Effects[1] - fit.Effects[0], 1e-12);
        Assert.Equal(Math.Log(0.5), fit.Effects[2] - fit.Effects[0], 1e-12);
    }

    [Fact]
    public void More_than_sixty_four_seasons_fit()
    {
        double[] n = [.. Enumerable.Repeat(1.0, 200)];
        double[] y = [.. Enumerable.Range(0, 200).Select(i => 5 * Math.Exp(-0.02 * (i % 100)))];
        var panel = Panel(100, y, n);
        Assert.Equal(-0.02, TrendFit.Of(panel).Value, 1e-12);
        var fit = PeriodFit.Of(panel, [true, .. Enumerable.Repeat(false, 99)]);
        Assert.Equal(-0.02 * 99, fit.Effects[99] - fit.Effects[0], 1e-10);
    }

    private static PeriodStatus[] Statuses(PeriodFit fit, int periods) => [.. Enumerable.Range(0, periods).Select(fit.StatusOf)];
}
