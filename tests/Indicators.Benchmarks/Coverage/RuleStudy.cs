using System.Diagnostics;
using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Analysis.Power;

namespace Indicators.Benchmarks.Coverage;

/// <summary>
/// What a rule for the underlying range can be chosen from: every series of every world with its range and the two parts of its
/// variance, in worlds of their own, so that the study of slopes judges the rule by worlds it was not chosen on.
/// </summary>
internal static class RuleStudy
{
    private const string Heading = "cell,factor,serial,shock_sd,wetlands,seasons,world,clusters,slope,lower,upper,by_clusters,by_shocks,truth";

    /// <summary>Runs the cells that a file does not hold yet; logarithms, not percent.</summary>
    public static void Run(int worlds, int resamples, string path, TextWriter log)
    {
        var file = new StudyFile(path, Heading);
        var options = new TrendOptions();
        foreach (var (cell, factor, shape) in SlopeGrid.Cells())
        {
            if (!file.Wants(cell, []) || factor.StartsWith("word", StringComparison.Ordinal))
                continue;
            long start = Stopwatch.GetTimestamp();
            uint key = StudySeed.Key("rule " + cell);
            double truth = World.TrueSlope(shape, 0, null);
            var rows = new List<string>();
            for (uint w = 0; w < worlds; w++)
            {
                var world = World.Draw(shape, StudySeed.World(key, w));
                var trends = PanelTrends.Of([.. Enumerable.Range(0, shape.Species).Select(k => world.Panel(k)).OfType<Statistics.Panels.PanelCounts>()], w, key, options, resamples);
                foreach (var one in trends)
                {
                    if (one is { Underlying: { } ends, Variances: var (byClusters, byShocks) })
                        rows.Add(string.Create(CultureInfo.InvariantCulture, $"{factor},{shape.Serial},{shape.ShockSd},{shape.Wetlands},{shape.Seasons},{w},{one.Clusters},{one.Slope.Value:g8},{ends.Lower:g8},{ends.Upper:g8},{byClusters:g8},{byShocks:g8},{truth:g8}"));
                }
            }
            file.Add(cell, rows);
            log.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{cell}: {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s"));
            log.Flush();
        }
    }
}
