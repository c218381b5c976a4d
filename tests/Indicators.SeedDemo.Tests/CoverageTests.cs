using Xunit;

namespace Indicators.SeedDemo.Tests;

/// <summary>
/// The engine's answers against the slopes that drew the calls, over 200 seeds that are not the demo's own. The bands are wide
/// on purpose: with 200 programmes a share of 0.95 has a standard error of 0.015. The figures with more resamples stand in
/// seed-demo/README.md.
/// </summary>
public sealed class CoverageTests
{
    private const int Programmes = 200;
    private const int Resamples = 199;
    private const string VennRiver = "9901020302";

    private static readonly Lazy<IReadOnlyList<CoverageRow>> Rows =
        new(() => CoverageStudy.Run(VennRiver, Programmes, Resamples, Environment.ProcessorCount));

    [Fact]
    public void Intervals_hold_the_true_slope_about_as_often_as_they_say()
    {
        foreach (var row in Rows.Value.Where(row => row.Intervals >= Programmes / 2))
        {
            double share = (double)row.Held / row.Intervals;
            Assert.True(share is >= 0.88 and <= 0.99, FormattableString.Invariant($"{row.Species.Id}: {share}"));
        }

        double all = (double)Rows.Value.Sum(row => row.Held) / Rows.Value.Sum(row => row.Intervals);
        Assert.InRange(all, 0.92, 0.975);
    }

    [Fact]
    public void Common_species_have_an_interval_and_the_thin_one_has_none()
    {
        foreach (var row in Rows.Value.Where(row => row.Species.Occupancy >= 0.5))
            Assert.Equal(Programmes, row.Intervals);
        Assert.InRange(Rows.Value.Single(row => row.Species.Id == "mink_frog").Intervals, 0, Programmes / 20);
    }

    [Fact]
    public void Estimates_lie_around_the_true_slope()
    {
        // Half a percent a season: several times the Monte Carlo error of the mean, small beside the slopes told apart.
        foreach (var row in Rows.Value.Where(row => row.Species.Occupancy >= 0.7))
            Assert.True(Math.Abs(row.MeanEstimate - row.Truth) < 0.5, FormattableString.Invariant($"{row.Species.Id}: {row.MeanEstimate} for {row.Truth}"));
    }

    [Fact]
    public void Words_are_seldom_wrong_and_the_falling_species_is_called_falling()
    {
        Assert.InRange(Rows.Value.Sum(row => row.WrongWords), 0, 0.05 * Rows.Value.Sum(row => row.Intervals));
        Assert.True(Rows.Value.Single(row => row.Species.Id == "northern_leopard_frog").Words > 0.9 * Programmes);
    }
}
