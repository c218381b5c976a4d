using System.Diagnostics;
using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Power;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Benchmarks.Coverage;

/// <summary>How often the engine's two intervals of a slope, and others, hold slopes that are known.</summary>
internal static class SlopeStudy
{
    private const string Columns =
        "cell,factor,wetlands,seasons,shock_sd,serial,worlds,resamples,zero_cells,at_ceiling,beneath_truth,slope_seasons_bias,slope_beneath_bias,bias_error,season_sd,interval,";

    private static readonly TrendOptions Options = new();

    public const string Heading = Columns + Tally.Heading;

    /// <summary>Runs the cells that a file does not hold yet.</summary>
    /// <param name="worlds">How many a cell.</param>
    /// <param name="resamples">How many a world.</param>
    /// <param name="path">The file.</param>
    /// <param name="only">These cells alone; none for all.</param>
    /// <param name="engineOnly">Without the candidates, which take nearly all the time and do not depend on the engine's rules.</param>
    /// <param name="log">Where progress goes.</param>
    /// <returns>Whether every name asked for is a cell's.</returns>
    public static bool Run(int worlds, int resamples, string path, string[] only, bool engineOnly, TextWriter log)
    {
        if (!StudyFile.Knows(only, SlopeGrid.Cells().Select(each => each.Cell), log))
            return false;
        var file = new StudyFile(path, Heading);
        foreach (var (cell, factor, shape) in SlopeGrid.Cells())
        {
            if (!file.Wants(cell, only))
                continue;
            long start = Stopwatch.GetTimestamp();
            file.Add(cell, Cell(cell, factor, shape, worlds, resamples, engineOnly));
            log.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{cell}: {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s"));
            log.Flush();
        }
        return true;
    }

    private static IEnumerable<string> Cell(string cell, string factor, WorldShape shape, int worlds, int resamples, bool engineOnly)
    {
        uint key = StudySeed.Key(cell);
        double beneath = Percent(World.TrueSlope(shape, 0, null));
        var tallies = new Dictionary<string, Tally>();
        Mean biasSeasons = new(), biasBeneath = new(), seasonSd = new(), zeros = new(), ceiling = new();
        for (uint w = 0; w < worlds; w++)
        {
            var world = World.Draw(shape, StudySeed.World(key, w));
            double[] truths = [.. world.Shocks.Select((s, k) => Percent(World.TrueSlope(shape, k, s)))];
            var panels = Enumerable.Range(0, shape.Species).Select(k => (Species: k, Panel: world.Panel(k))).Where(p => p.Panel is not null).ToList();
            var trends = PanelTrends.Of([.. panels.Select(p => p.Panel!)], w, key, Options, resamples);
            var found = new Dictionary<string, List<Outcome>>();
            for (int i = 0; i < trends.Length; i++)
            {
                foreach (var (name, interval) in Intervals(trends[i], w, key, resamples).Take(engineOnly ? 2 : int.MaxValue))
                {
                    if (!found.TryGetValue(name, out var outcomes))
                        found[name] = outcomes = [];
                    outcomes.Add(interval is { } ends
                        ? new Outcome(Percent(ends.Lower), Percent(ends.Upper), truths[panels[i].Species], beneath, Word(ends))
                        : new Outcome(null, null, 0, 0, null));
                }
            }
            foreach (var (name, outcomes) in found)
            {
                if (!tallies.TryGetValue(name, out var tally))
                    tallies[name] = tally = new Tally();
                tally.AddWorld(outcomes);
            }
            biasSeasons.AddWorld(trends.Select((t, i) => Percent(t.Slope.Value) - truths[panels[i].Species]));
            biasBeneath.AddWorld(trends.Select(t => Percent(t.Slope.Value) - beneath));
            seasonSd.AddWorld(trends.Select(t => t.SeasonSd));
            zeros.AddWorld(world.Levels.Where(c => c.Length > 0).SelectMany(c => Enumerable.Range(0, shape.Species).Select(k => c.All(v => v[k] == 0) ? 1.0 : 0)));
            ceiling.AddWorld(world.Levels.SelectMany(c => c).SelectMany(v => v).Select(level => level == 3 ? 1.0 : 0));
        }
        return [.. tallies.Select(p => string.Create(
            CultureInfo.InvariantCulture,
            $"{factor},{shape.Wetlands},{shape.Seasons},{shape.ShockSd},{shape.Serial},{worlds},{resamples},{zeros.Value:0.###},{ceiling.Value:0.###},{beneath:0.###},{biasSeasons.Value:0.###},{biasBeneath.Value:0.###},{biasBeneath.Error:0.###},{seasonSd.Value:0.###},{p.Key},{p.Value}"))];
    }

    /// <summary>The engine's two, by the names the exports give them, and the candidates.</summary>
    private static IEnumerable<(string Name, Interval? Interval)> Intervals(PanelTrend trend, uint world, uint key, int resamples)
    {
        double confidence = Options.Confidence, slope = trend.Slope.Value;
        yield return ("observed", trend.Observed);
        yield return ("underlying", trend.Underlying);
        bool told = trend.Observed is not null;
        yield return ("two-way t", told ? TwoWaySandwich.Of(trend.Panel, trend.Slope)?.Interval(slope, confidence) : null);

        double[] draws = [.. trend.SlopeDraws.Where(b => !double.IsNaN(b)).Order()];
        double[] deleteOne = told ? TrendFit.DeleteOne(trend.Panel, trend.Slope) : [];
        bool finite = told && deleteOne.All(double.IsFinite);
        yield return ("percentile", told ? BootstrapInterval.Percentile(draws, confidence) : null);
        yield return ("BCa", finite ? BootstrapInterval.Bca(draws, slope, Jackknife.Acceleration(deleteOne), confidence) : null);
        yield return ("jackknife t", finite ? Jackknife.StudentT(slope, deleteOne, trend.Clusters, confidence) : null);

        var candidates = told ? new Candidates(trend.Panel, trend.Slope) : null;
        yield return ("sandwich CR1 t", candidates?.Cr1(confidence));
        var cr2 = candidates?.Cr2(confidence);
        yield return ("sandwich CR2 t", cr2?.Plain);
        yield return ("sandwich CR2 Satterthwaite", cr2?.Satterthwaite);
        var plan = new ResamplingPlan(world, key, trend.Panel.ClusterCount);
        yield return ("studentised bootstrap", candidates?.Studentised(trend.SlopeDraws, (b, times) => plan.Draw(b, times), confidence));
        yield return ("wild cluster bootstrap", candidates?.Wild(WildWeights.Of(candidates.Clusters, resamples - 1, key, world), confidence));
    }

    /// <summary>Puts a run of the engine's two intervals in their places in a whole table.</summary>
    /// <param name="whole">The table; written anew.</param>
    /// <param name="engine">The run.</param>
    /// <exception cref="InvalidDataException">The run does not have the table's worlds: an observed interval differs.</exception>
    public static void Renew(string whole, string engine)
    {
        string[] renewed = File.ReadAllLines(engine);
        var rows = renewed.Skip(1).ToDictionary(NameOf);
        string[] table = File.ReadAllLines(whole);
        int springs = Array.IndexOf(table[0].Split(','), "season_sd");
        for (int i = 1; i < table.Length; i++)
        {
            string[] old = table[i].Split(',');
            if (!rows.TryGetValue((NameOf(table[i]).Cell, "observed"), out string? observed))
                continue;
            // How strong springs are reckoned is the engine's, as its intervals are, and stands in every row of a cell.
            old[springs] = observed.Split(',')[springs];
            string kept = string.Join(',', old);
            if (NameOf(kept).Interval == "observed" && kept != observed)
                throw new InvalidDataException($"The worlds differ: {table[i]} was {observed}.");
            table[i] = rows.GetValueOrDefault(NameOf(kept), kept);
        }
        File.WriteAllText(whole, string.Concat(table.Select(row => row + "\n")));

        static (string Cell, string Interval) NameOf(string row)
        {
            string[] values = row.Split(',');
            return (values[0], values[Columns.Count(c => c == ',') - 1]);
        }
    }

    private static int? Word(Interval log) => log switch
    {
        { Upper: < 0 } => -1,
        { Lower: > 0 } => 1,
        _ when Percent(log.Lower) >= -Options.PracticalChangePercent && Percent(log.Upper) <= Options.PracticalChangePercent => 0,
        _ => null,
    };

    private static double Percent(double log) => 100 * double.ExpM1(log);
}
