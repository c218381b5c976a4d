using System.Globalization;
using Indicators.SeedDemo;
using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Expansions;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks;

/// <summary>
/// How far interval ends of adjusted trends and effects read off the expansion lie from those of full refits of the same resamples, in
/// standard deviations of the full refits, on the state's programme with invented covariates: all of its species in some of its watersheds.
/// </summary>
internal static class ExpansionStudy
{
    private const int Effects = 7;
    private static readonly double[] Limits = [0.3, 0.5, 0.7, 1, double.PositiveInfinity];

    /// <summary>Runs the study and writes one line a limit and class of series.</summary>
    internal static void Run(int watersheds, int resamples, TextWriter output)
    {
        var programme = new StateProgramme(1);
        var all = new List<Outcome>[watersheds];
        Parallel.For(0, watersheds, w => all[w] = [.. Enumerable.Range(0, StateProgramme.Species).Select(k => One(programme, w, k, resamples)).OfType<Outcome>()]);
        var outcomes = all.SelectMany(o => o).ToArray();
        output.WriteLine("| visits with calls an effect | series | steps longer than | fitted in full | slope ends: median | worst | effects' ends: median | worst | worst against Monte Carlo error |");
        output.WriteLine("|---|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (var (low, high) in new[] { (5, 10), (10, 20), (20, 1000) })
        {
            var group = outcomes.Where(o => o.HeardAnEffect >= low && o.HeardAnEffect < high).ToArray();
            for (int l = 0; l < Limits.Length && group.Length > 0; l++)
            {
                double[] slope = [.. group.Select(o => o.Slope[l]).Order()], effect = [.. group.Select(o => o.Effect[l]).Order()];
                output.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {low} to {high} | {group.Length} | {Limits[l]} | {100 * group.Average(o => o.Long[l]):0.00} % | {slope[slope.Length / 2]:0.000} | {slope[^1]:0.000} | {effect[effect.Length / 2]:0.000} | {effect[^1]:0.000} | {group.Max(o => Math.Max(o.Slope[l], o.Effect[l])) / group.Average(o => o.MonteCarlo):0.0} |"));
            }
        }
    }

    private sealed record Outcome(double HeardAnEffect, double[] Long, double[] Slope, double[] Effect, double MonteCarlo);

    private static Outcome? One(StateProgramme programme, int watershed, int species, int resamples)
    {
        var visits = Visits(programme, watershed, species, out int heard);
        if (visits is null || heard < 5 * (Effects + 1))
            return null;
        var fit = AdjustedFit.Of(visits, AdjustedModel.Trend);
        if (fit.Status != AdjustedStatus.Finite)
            return null;
        var refits = AdjustedRefits.Of(visits, fit);
        var start = fit.ToStart();
        int n = refits.Expansion.Parameters;
        double[][] full = [.. Enumerable.Range(0, n).Select(_ => new double[resamples])], fast = [.. full.Select(_ => new double[resamples])];
        var lengths = new double[resamples];
        var plan = new ResamplingPlan(1, (ulong)watershed, visits.Panel.ClusterCount);
        var work = new ClusterExpansion.Workspace(refits.Expansion);
        var block = new double[plan.Clusters * ClusterSums.Block];
        double[] steps = new double[n * ClusterSums.Block], length = new double[ClusterSums.Block];
        var multiplicities = new int[plan.Clusters];
        var sample = new Resample(visits.Panel);
        var refit = new AdjustedFit(visits, AdjustedModel.Trend);
        for (int first = 0; first < resamples; first += ClusterSums.Block)
        {
            int count = Math.Min(ClusterSums.Block, resamples - first);
            for (int b = 0; b < count; b++)
            {
                plan.Draw(first + b, multiplicities);
                for (int c = 0; c < plan.Clusters; c++)
                    block[c * ClusterSums.Block + b] = multiplicities[c];
            }
            refits.Expansion.Refit(block, work, steps, length);
            for (int b = 0; b < count; b++)
            {
                lengths[first + b] = length[b];
                plan.Draw(first + b, multiplicities);
                sample.Fill(multiplicities);
                bool finite = refit.Fit(sample, default, start, 1e-7) == AdjustedStatus.Finite;
                for (int c = 0; c < n; c++)
                {
                    fast[c][first + b] = steps[c * ClusterSums.Block + b];
                    full[c][first + b] = !finite ? double.NaN
                        : c == 0 ? (refit.Slope - fit.Slope) / refits.SlopeOf(1)
                        : refit.Coefficients[refits.Covariates[c - 1]] - fit.Coefficients[refits.Covariates[c - 1]];
                }
            }
        }
        double[] kept = [.. full[0].Where(double.IsFinite).Order()];
        double sd = Math.Sqrt(kept.Average(x => x * x) - Math.Pow(kept.Average(), 2));
        double[] slope = new double[Limits.Length], effect = new double[Limits.Length];
        for (int l = 0; l < Limits.Length; l++)
            for (int c = 0; c < n; c++)
            {
                double far = Difference(full[c], fast[c], lengths, Limits[l]);
                if (c == 0) slope[l] = far;
                else effect[l] = Math.Max(effect[l], far);
            }
        return new Outcome(
            (double)heard / n,
            [.. Limits.Select(limit => lengths.Count(x => !(x <= limit)) / (double)resamples)],
            slope,
            effect,
            BootstrapInterval.MonteCarloError(kept, 0.025) / sd);
    }

    /// <summary>The larger distance of the two ends, in standard deviations of the full refits, long steps taken from those.</summary>
    private static double Difference(double[] full, double[] fast, double[] lengths, double limit)
    {
        double[] truth = [.. full.Where(double.IsFinite).Order()];
        double[] mixed = [.. fast.Select((x, b) => lengths[b] <= limit ? x : full[b]).Where(double.IsFinite).Order()];
        double mean = truth.Average(), sd = Math.Sqrt(truth.Average(x => (x - mean) * (x - mean)));
        var one = BootstrapInterval.Percentile(truth, 0.95);
        var two = BootstrapInterval.Percentile(mixed, 0.95);
        return Math.Max(Math.Abs(one.Lower - two.Lower), Math.Abs(one.Upper - two.Upper)) / sd;
    }

    private static VisitPanel? Visits(StateProgramme programme, int watershed, int species, out int heard)
    {
        List<int> units = [], periods = [];
        List<double> counts = [], covariates = [];
        List<int> wetlands = [];
        heard = 0;
        Span<int> levels = stackalloc int[StateProgramme.Species];
        for (int s = 0; s < StateProgramme.Stations; s++)
        {
            int from = units.Count;
            bool any = false;
            for (int t = 0; t < StateProgramme.Seasons; t++)
            {
                if (!programme.Kept(watershed, s, t))
                    continue;
                for (int v = 0; v < StateProgramme.Visits; v++)
                {
                    programme.Listen(watershed, s, t, v, levels);
                    var random = DemoRandom.For(7, Draw.Visit, watershed, s, t, v);
                    double day = 30 * v + 15 * random.Normal(), temperature = 8 + 5 * v + 3 * random.Normal();
                    units.Add(wetlands.Count);
                    periods.Add(t);
                    counts.Add(levels[species]);
                    covariates.AddRange([
                        day, (day - 30) * (day - 30), temperature, (temperature - 13) * (temperature - 13),
                        Math.Floor(4 * random.Uniform()), 60 + 40 * random.Normal(), random.Chance(0.15) ? 1 : 0]);
                    any |= levels[species] > 0;
                    heard += levels[species] > 0 ? 1 : 0;
                }
            }
            if (any)
            {
                wetlands.Add(StateProgramme.WetlandOf(s));
                continue;
            }
            units.RemoveRange(from, units.Count - from);
            periods.RemoveRange(from, periods.Count - from);
            counts.RemoveRange(from, counts.Count - from);
            covariates.RemoveRange(from * Effects, covariates.Count - from * Effects);
        }
        if (wetlands.Count < 5)
            return null;
        double[] y = new double[wetlands.Count * StateProgramme.Seasons], n = new double[y.Length];
        for (int v = 0; v < units.Count; v++)
        {
            y[units[v] * StateProgramme.Seasons + periods[v]] += counts[v];
            n[units[v] * StateProgramme.Seasons + periods[v]]++;
        }
        var panel = new PanelCounts([.. Enumerable.Range(0, StateProgramme.Seasons).Select(t => (double)t)], y, n, default, [.. wetlands], StateProgramme.Wetlands);
        return new VisitPanel(panel, [.. units], [.. periods], [.. counts], [.. covariates], Effects);
    }
}
