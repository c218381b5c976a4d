using Indicators.Analysis.Options;
using Indicators.Analysis.Score;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Analysis.Tests;

public sealed class DirectionChanceTests
{
    private static readonly double Threshold = Math.Log(0.98);

    /// <summary>Methods of the house give 98 of 100 for a steady species at a standard error of 1 % and 66 at 5 %, losses of 2 % allowed.</summary>
    [Theory]
    [InlineData(0.01, 0.98)]
    [InlineData(0.05, 0.66)]
    public void A_steady_species_scores_by_how_well_it_is_known(double standardError, double expected) =>
        Assert.Equal(expected, DirectionChance.Of(Normal(0, standardError), Threshold, new TrendOptions()).Probability, 0.01);

    [Theory]
    [InlineData(-0.05)]
    [InlineData(0.0)]
    [InlineData(0.03)]
    public void Range_of_the_chance_is_the_range_of_the_slope_put_through_the_same_curve(double slope)
    {
        double[] draws = Normal(slope, 0.04);
        double sd = Math.Sqrt(DrawMoments.Of(draws).Variance);
        var chances = new double[draws.Length];
        DirectionChance.Of(draws, Threshold, new TrendOptions()).AddTo(chances, draws);
        Array.Sort(draws);
        Array.Sort(chances);
        foreach (double p in new[] { 0.025, 0.5, 0.975 })
        {
            // Type 6 lies between two order statistics, on a straight line where the curve is bent.
            Assert.Equal(Quantile.NormalCdf((SampleQuantile.Type6(draws, p) - Threshold) / sd), SampleQuantile.Type6(chances, p), 1e-4);
        }
    }

    /// <summary>The chance at the true slope lies in the range as often as the slope does in its own: 95 times in a hundred.</summary>
    [Fact]
    public void Range_holds_the_chance_at_the_true_slope_as_often_as_it_says()
    {
        const double Se = 0.03, Slope = -0.04;
        var random = new UniformStream(7, 1, 0);
        double truth = Quantile.NormalCdf((Slope - Threshold) / Se);
        int held = 0;
        const int Worlds = 2000, Count = 400;
        double[] shape = Normal(0, Se, Count);
        for (int w = 0; w < Worlds; w++)
        {
            double estimate = Slope + Se * random.Normal();
            var chances = new double[Count];
            double[] draws = [.. shape.Select(d => d + estimate)];
            DirectionChance.Of(draws, Threshold, new TrendOptions()).AddTo(chances, draws);
            var range = BootstrapInterval.PercentileInPlace(chances, 0.95);
            held += range.Lower <= truth && truth <= range.Upper ? 1 : 0;
        }
        Assert.InRange(held / (double)Worlds, 0.93, 0.97);
    }

    [Fact]
    public void Lost_resamples_take_the_chance_itself_and_endless_slopes_are_certain()
    {
        double[] draws = [.. Normal(0, 0.05, 96), double.NaN, double.NegativeInfinity, double.PositiveInfinity, 0.01];
        var chance = DirectionChance.Of(draws, Threshold, new TrendOptions());
        var sum = new double[100];
        chance.AddTo(sum, draws);
        Assert.Equal([chance.Probability, 0, 1], sum[96..99]);
        Assert.Equal(draws.Count(d => d > Threshold) / 99.0, chance.Probability, 12);
    }

    [Fact]
    public void Without_a_range_it_is_even_odds_and_without_spread_yes_or_no()
    {
        var none = new double[3];
        DirectionChance.Of(null, Threshold, new TrendOptions()).AddTo(none, null);
        Assert.Equal([0.5, 0.5, 0.5], none);
        double[] mostlyLost = [.. Enumerable.Repeat(double.NaN, 10), .. Normal(0, 0.05, 90)];
        Assert.Equal(0.5, DirectionChance.Of(mostlyLost, Threshold, new TrendOptions()).Probability);
        var same = new double[2];
        DirectionChance.Of([0.01, 0.01], Threshold, new TrendOptions()).AddTo(same, [0.01, 0.01]);
        Assert.Equal([1.0, 1.0], same);
    }

    private static double[] Normal(double mean, double sd, int count = 4000) =>
        [.. Enumerable.Range(0, count).Select(i => mean + sd * Quantile.OfNormal((i + 0.5) / count))];
}
