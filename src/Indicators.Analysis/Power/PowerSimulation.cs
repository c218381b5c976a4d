using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Power;

/// <summary>How often a plan of listening would show a change: worlds drawn from a spread, each put through the engine's trend.</summary>
public static class PowerSimulation
{
    /// <summary>Keeps the simulation's random numbers apart from every area's: no watershed code has this many digits.</summary>
    private const ulong Apart = 0xFFUL << 44;

    /// <summary>Simulates one plan.</summary>
    /// <param name="question">The change, the number of worlds and resamples, the seed.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="options">How trends are fitted and worded.</param>
    /// <param name="parallel">How many threads may work; no result depends on it.</param>
    public static PowerResult Of(PowerQuestion question, ListeningPlan plan, CallingSpread spread, TrendOptions options, ParallelOptions parallel)
    {
        double slope = Math.Log(1 + question.PercentPerSeason / 100);
        ulong stream = Apart | (ulong)(uint)plan.Wetlands << 24 | (ulong)(uint)plan.Seasons << 12 | (uint)plan.Visits;
        var (right, wrong) = slope > 0 ? (Direction.Up, Direction.Down) : (Direction.Down, Direction.Up);
        var words = new Direction[question.Worlds];
        var ranges = new bool[question.Worlds];
        Parallel.For(0, question.Worlds, parallel, world =>
        {
            var panel = SimulatedListening.Draw(plan, spread, slope, new UniformStream(question.Seed, stream, (uint)world));
            // The springs of a plan do not last. One species alone would hardly show that, all those listened to together would.
            var trend = PanelTrends.Of([panel], question.Seed + (ulong)world + 1, stream, options, question.Resamples, SeasonCarryOver.Untold)[0];
            words[world] = trend.Direction;
            ranges[world] = trend.Observed is { } range && (slope > 0 ? range.Lower > 0 : range.Upper < 0);
        });
        return new PowerResult(
            plan,
            question.Worlds,
            (double)words.Count(w => w == right) / question.Worlds,
            (double)words.Count(w => w == wrong) / question.Worlds,
            (double)ranges.Count(r => r) / question.Worlds,
            PowerClosedForm.RightWord(plan, spread, slope, options));
    }
}
