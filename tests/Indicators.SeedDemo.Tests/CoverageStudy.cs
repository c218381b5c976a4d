using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.SeedDemo.Tests;

/// <summary>How often the engine's intervals held one species' true slope.</summary>
/// <param name="Species">The species.</param>
/// <param name="Truth">Its slope beneath good and bad springs, percent a season.</param>
/// <param name="Estimated">In how many programmes a slope was estimated.</param>
/// <param name="MeanEstimate">The mean of those estimates.</param>
/// <param name="Intervals">In how many there was an interval with two ends.</param>
/// <param name="Held">How many intervals of observed change hold the slope over just those seasons, their springs included.</param>
/// <param name="HeldUnderlying">How many intervals of the underlying direction hold <paramref name="Truth"/>.</param>
/// <param name="Words">In how many the pages said up, down or steady.</param>
/// <param name="WrongWords">In how many that word was wrong of <paramref name="Truth"/>.</param>
public sealed record CoverageRow(
    DemoSpecies Species, double Truth, int Estimated, double MeanEstimate, int Intervals, int Held, int HeldUnderlying, int Words, int WrongWords);

/// <summary>
/// Draws the demo programme from other seeds than its own, lets the engine analyse one area of each, and counts how often its
/// intervals hold the slopes that drew the calls. In memory, without files.
/// </summary>
public static class CoverageStudy
{
    /// <summary>The first of the study's seeds, far from the committed one.</summary>
    public const ulong FirstSeed = 10_001;

    /// <summary>The rows of all species, in the demo's order.</summary>
    /// <param name="area">The area to analyse.</param>
    /// <param name="programmes">How many seeds.</param>
    /// <param name="resamples">Bootstrap resamples in each.</param>
    /// <param name="threads">How many threads; changes nothing but the time.</param>
    public static IReadOnlyList<CoverageRow> Run(string area, int programmes, int resamples, int threads)
    {
        var outcomes = new Outcome[programmes][];
        Parallel.For(0, programmes, new ParallelOptions { MaxDegreeOfParallelism = threads }, i =>
            outcomes[i] = Analyse(area, FirstSeed + (ulong)i, resamples));
        return [.. DemoSpecies.All.Select((species, k) => RowOf(species, area, [.. outcomes.Select(programme => programme[k])]))];
    }

    private readonly record struct Outcome(double Truth, Trend? Trend);

    private static Outcome[] Analyse(string area, ulong seed, int resamples)
    {
        var scenario = new Scenario(seed);
        var analysis = ProgrammeAnalysis.Prepare(scenario.Data(), new ProgrammeSettings(), new RunOptions { Seed = seed, Resamples = resamples });
        var trends = analysis.Analyse(WatershedCode.Parse(area).Value, 1, CancellationToken.None).Trends;
        return
        [
            .. DemoSpecies.All.Select((species, k) => new Outcome(
                Truth.PercentPerSeason(species, area, scenario.Surveys.SeasonEffects[k]),
                trends.FirstOrDefault(trend => trend.Species.ToString() == species.Id))),
        ];
    }

    private static CoverageRow RowOf(DemoSpecies species, string area, IReadOnlyList<Outcome> outcomes)
    {
        double underlying = Truth.PercentPerSeason(species, area, []);
        var estimated = outcomes.Where(outcome => outcome.Trend?.PercentPerSeason is not null).ToList();
        var withInterval = estimated.Where(outcome => outcome.Trend!.Lower is not null && outcome.Trend.Upper is not null).ToList();
        return new CoverageRow(
            species,
            underlying,
            estimated.Count,
            estimated.Count == 0 ? double.NaN : estimated.Average(outcome => outcome.Trend!.PercentPerSeason!.Value),
            withInterval.Count,
            withInterval.Count(outcome => Holds(outcome.Trend!.Lower, outcome.Truth, outcome.Trend.Upper)),
            withInterval.Count(outcome => Holds(outcome.Trend!.LowerUnderlying, underlying, outcome.Trend.UpperUnderlying)),
            withInterval.Count(outcome => outcome.Trend!.Direction != Direction.Unclear),
            withInterval.Count(outcome => IsWrong(outcome.Trend!.Direction, underlying)));
    }

    private static bool Holds(double? lower, double percent, double? upper) => lower <= percent && percent <= upper;

    private static bool IsWrong(Direction said, double percent) => said switch
    {
        Direction.Up => percent <= 0,
        Direction.Down => percent >= 0,
        Direction.Steady => Math.Abs(percent) > new TrendOptions().PracticalChangePercent,
        _ => false,
    };
}
