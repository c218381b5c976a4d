using Indicators.Analysis.Options;
using Indicators.Analysis.Power;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Analysis.Tests.Power;

/// <summary>How surely a plan of listening shows a change: simulation through the engine beside the closed form.</summary>
public class PowerTests
{
    private static readonly CallingSpread Spread = new()
    {
        Mean = 0.6,
        WhenHeard = [(1, 0.5), (2, 0.3), (3, 0.2)],
        LevelSd = 0.5,
        SlopeSd = 0.03,
        CellSd = 0.3,
        SeasonSd = 0.1,
    };

    private static readonly ParallelOptions Any = new();

    private static PowerQuestion Asked(double percent, int worlds = 400) =>
        new() { PercentPerSeason = percent, Worlds = worlds, Resamples = 200, Seed = 7 };

    private static PowerResult Simulated(PowerQuestion question, ListeningPlan plan, CallingSpread spread) =>
        PowerSimulation.Of(question, plan, spread, new TrendOptions(), Any);

    // The closed form takes the interval's width as its expected one and leaves the bootstrap's noise out; beyond simulation
    // error (3 standard errors) it is allowed 5 points where power is neither near 0 nor near 1.
    [Theory]
    [InlineData(20, 12, 3, -4)]
    [InlineData(20, 12, 3, 4)]
    [InlineData(40, 15, 3, -2)]
    [InlineData(60, 10, 2, -3)]
    [InlineData(30, 20, 1, -2)]
    [InlineData(60, 20, 3, -5)]
    [InlineData(40, 12, 2, -4, 1.6)]
    public void Simulation_and_closed_form_agree(int wetlands, int seasons, int visits, double percent, double mean = 0.6)
    {
        var result = Simulated(Asked(percent), new ListeningPlan(wetlands, seasons, visits), Spread with { Mean = mean });

        Assert.InRange(result.RightWord, result.ClosedForm - 3 * result.RightWordError - 0.05, result.ClosedForm + 3 * result.RightWordError + 0.05);
    }

    [Theory]
    [InlineData(20, 12, 3, 0.6)]
    [InlineData(60, 8, 2, 0.6)]
    [InlineData(40, 12, 2, 1.6)]
    public void Slopes_of_simulated_worlds_spread_as_the_closed_form_says(int wetlands, int seasons, int visits, double mean)
    {
        const int Worlds = 1500;
        var plan = new ListeningPlan(wetlands, seasons, visits);
        var spread = Spread with { Mean = mean };
        double slope = Math.Log(0.97);
        double[] slopes = [.. Enumerable.Range(0, Worlds).Select(w =>
            TrendFit.Of(SimulatedListening.Draw(plan, spread, slope, new UniformStream(11, 1, (uint)w))).Value)];
        double average = slopes.Average(), variance = slopes.Sum(s => (s - average) * (s - average)) / (Worlds - 1);

        var outlook = PowerClosedForm.Outlook(plan, spread, slope);

        // A variance of 1,500 draws has a relative standard error of √(2/1499) = 3.7 %; first-order theory is given 8 % more.
        Assert.InRange(variance / (outlook.BetweenWetlands + outlook.BySprings), 0.81, 1.19);
        Assert.InRange(average - outlook.Mean, -4 * Math.Sqrt(variance / Worlds), 4 * Math.Sqrt(variance / Worlds));
    }

    [Fact]
    public void Ceiling_damps_the_slope_that_is_seen()
    {
        var plan = new ListeningPlan(20, 12, 2);
        double slope = Math.Log(0.96);
        double quiet = PowerClosedForm.Outlook(plan, Spread with { Mean = 0.2 }, slope).Mean, loud = PowerClosedForm.Outlook(plan, Spread with { Mean = 1.6 }, slope).Mean;

        Assert.Equal(slope, quiet, 3);
        Assert.InRange(loud, 0.8 * slope, 0.3 * slope);
    }

    [Fact]
    public void Spread_is_recovered_from_a_large_programme()
    {
        // Quiet enough that the chance of hearing never reaches 1, for a ceiling would damp what is looked for; and eight
        // visits, for with few the spread of cells drowns in that of surveys.
        var quiet = Spread with { Mean = 0.4, LevelSd = 0.4 };
        const int Programmes = 12;
        CallingSpread[] found = [.. Enumerable.Range(0, Programmes).Select(i =>
        {
            var panel = SimulatedListening.Draw(new ListeningPlan(150, 16, 8), quiet, -0.02, new UniformStream(3, 2, (uint)i));
            return SpreadFit.Of(panel, TrendFit.Of(panel).Value, quiet.SeasonSd, quiet.WhenHeard);
        })];

        Assert.InRange(found.Average(f => f.Mean), 0.38, 0.42);
        Assert.InRange(found.Average(f => f.LevelSd), 0.36, 0.44);
        Assert.InRange(Math.Sqrt(found.Average(f => f.SlopeSd * f.SlopeSd)), 0.027, 0.033);
        Assert.InRange(Math.Sqrt(found.Average(f => f.CellSd * f.CellSd)), 0.27, 0.33);
    }

    [Fact]
    public void Even_calling_is_given_no_spread()
    {
        var even = Spread with { LevelSd = 0, SlopeSd = 0, CellSd = 0, SeasonSd = 0 };
        var panel = SimulatedListening.Draw(new ListeningPlan(200, 16, 8), even, 0, new UniformStream(4, 2, 0));

        var found = SpreadFit.Of(panel, TrendFit.Of(panel).Value, 0, even.WhenHeard);

        Assert.InRange(found.LevelSd, 0, 0.1);
        Assert.InRange(found.SlopeSd, 0, 0.01);
        Assert.InRange(found.CellSd, 0, 0.15);
    }

    [Fact]
    public void Simulated_surveys_have_the_mean_and_levels_asked_for()
    {
        var even = Spread with { LevelSd = 0, SlopeSd = 0, CellSd = 0, SeasonSd = 0 };
        var plan = new ListeningPlan(400, 10, 1);
        var panel = SimulatedListening.Draw(plan, even, 0, new UniformStream(5, 2, 0));
        double[] levels = [.. Enumerable.Range(0, panel.Units).SelectMany(s => Enumerable.Range(0, panel.Periods).Select(t => panel.Count(s, t)))];
        double heard = levels.Count(l => l > 0);

        // 4,000 surveys: standard errors are about 0.015 for the mean and 0.013 for shares of those that heard something.
        Assert.InRange(levels.Average(), 0.54, 0.66);
        Assert.All(even.WhenHeard, when => Assert.InRange(levels.Count(l => l == when.Value) / heard, when.Share - 0.05, when.Share + 0.05));
    }

    [Fact]
    public void More_of_anything_shows_more()
    {
        double Of(int wetlands, int seasons, int visits, double percent) =>
            Simulated(Asked(percent, 300), new ListeningPlan(wetlands, seasons, visits), Spread).RightWord;

        double middle = Of(15, 10, 2, -5);
        Assert.True(Of(45, 10, 2, -5) > middle);
        Assert.True(Of(15, 16, 2, -5) > middle);
        Assert.True(Of(15, 10, 2, -10) > middle);
    }

    [Fact]
    public void No_word_where_the_engine_gives_no_range()
    {
        var result = Simulated(Asked(-50, 40), new ListeningPlan(4, 12, 3), Spread);

        Assert.Equal((0.0, 0.0, 0.0, 0.0), (result.RightWord, result.WrongWord, result.RightRange, result.ClosedForm));
    }

    [Fact]
    public void Threads_change_nothing()
    {
        var plan = new ListeningPlan(12, 10, 2);
        PowerResult Of(int threads) => PowerSimulation.Of(Asked(-5, 100), plan, Spread, new TrendOptions(), new ParallelOptions { MaxDegreeOfParallelism = threads });

        Assert.Equal(Of(1), Of(2));
    }

    [Fact]
    public void Degrees_of_freedom_lie_between_the_two_numbers_of_groups()
    {
        // All variance between clusters: K − 1 = 19; all from shocks: T − 2 = 10; half of each: Satterthwaite 1946 by hand.
        Assert.Equal(1 / (0.25 / 19 + 0.25 / 10), Statistics.Shocks.UnderlyingSlopes.DegreesOfFreedom(1, 1, 20, 12), 12);
        Assert.Equal(19, Statistics.Shocks.UnderlyingSlopes.DegreesOfFreedom(1, 0, 20, 12), 12);
        Assert.Equal(10, Statistics.Shocks.UnderlyingSlopes.DegreesOfFreedom(0, 1, 20, 12), 12);
    }
}
