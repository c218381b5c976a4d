using System.Diagnostics;
using System.Globalization;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks;

/// <summary>
/// Times the hot loop alone: refits of the trend (one parameter) and of the annual model (a parameter a season) on bootstrap
/// resamples of one watershed of the state's programme, for all its species, the way the engine does them.
/// </summary>
public static class FitsPerSecond
{
    private const int Rounds = 7;

    public static void Run(int resamples, TextWriter to)
    {
        var state = new StateProgramme(1);
        PanelCounts[] panels = [.. Enumerable.Range(0, StateProgramme.Species).Select(k => state.Panel(0, k))];
        to.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{panels.Length} species x {resamples} resamples, {panels.Average(panel => panel.Units):0.0} stations heard each, {StateProgramme.Seasons} seasons"));
        foreach (int threads in new[] { 1, Environment.ProcessorCount }.Distinct())
        {
            Report("trend", threads, Trend);
            Report("annual", threads, Annual);
            Report("annual by four", threads, AnnualByFour);
        }

        void Report(string name, int threads, Func<PanelCounts, int, int, int> fits)
        {
            Once(threads, fits);
            var rounds = Enumerable.Range(0, Rounds).Select(_ => Once(threads, fits)).ToList();
            double[] byClock = [.. rounds.Select(round => round.ByClock).Order()], byProcessor = [.. rounds.Select(round => round.ByProcessor).Order()];
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{name,-14} {threads} thread(s): median {byClock[Rounds / 2],8:0} fits a second ({byClock[0]:0} to {byClock[^1]:0}), {byProcessor[Rounds / 2],8:0} a second of processor time ({byProcessor[0]:0} to {byProcessor[^1]:0})"));
        }

        // Processor time beside the clock: on a busy machine only the first says what the code costs.
        (double ByClock, double ByProcessor) Once(int threads, Func<PanelCounts, int, int, int> fits)
        {
            int done = 0;
            using var process = Process.GetCurrentProcess();
            var before = process.TotalProcessorTime;
            long start = Stopwatch.GetTimestamp();
            Parallel.For(0, threads, new ParallelOptions { MaxDegreeOfParallelism = threads }, thread =>
            {
                int from = resamples * thread / threads, until = resamples * (thread + 1) / threads;
                foreach (var panel in panels)
                    Interlocked.Add(ref done, fits(panel, from, until));
            });
            double clock = Stopwatch.GetElapsedTime(start).TotalSeconds;
            process.Refresh();
            return (done / clock, done / (process.TotalProcessorTime - before).TotalSeconds);
        }
    }

    private static int Trend(PanelCounts panel, int from, int until)
    {
        var plan = new ResamplingPlan(1, 1, panel.ClusterCount);
        var sample = new Resample(panel);
        var fit = new TrendFit(panel.Periods);
        var expansion = new TrendExpansion(panel, panel.Periods, TrendFit.Of(panel).Value);
        var multiplicities = new int[panel.ClusterCount];
        for (int b = from; b < until; b++)
        {
            plan.Draw(b, multiplicities);
            sample.Fill(multiplicities);
            fit.Refit(sample, expansion);
        }

        return until - from;
    }

    private static int Annual(PanelCounts panel, int from, int until)
    {
        bool[] baseline = [.. Enumerable.Range(0, panel.Periods).Select(t => t < 3)];
        var plan = new ResamplingPlan(1, 1, panel.ClusterCount);
        var sample = new Resample(panel);
        double[] start = PeriodFit.Of(panel, baseline).Effects.ToArray();
        var fit = new PeriodFit(panel);
        var multiplicities = new int[panel.ClusterCount];
        for (int b = from; b < until; b++)
        {
            plan.Draw(b, multiplicities);
            sample.Fill(multiplicities);
            fit.Fit(sample, baseline, start);
        }

        return until - from;
    }

    /// <summary>The annual model as the engine refits it: four resamples at once, by itself where those cannot take it.</summary>
    private static int AnnualByFour(PanelCounts panel, int from, int until)
    {
        bool[] baseline = [.. Enumerable.Range(0, panel.Periods).Select(t => t < 3)];
        var plan = new ResamplingPlan(1, 1, panel.ClusterCount);
        var sample = new Resample(panel);
        double[] start = PeriodFit.Of(panel, baseline).Effects.ToArray();
        var fit = new PeriodFit(panel);
        var four = new PeriodRefits(panel, baseline);
        var multiplicities = new int[panel.ClusterCount];
        int queued = 0;
        for (int b = from; b < until; b++)
        {
            plan.Draw(b, multiplicities);
            sample.Fill(multiplicities);
            if (!four.Takes(sample, fit.Compare(sample, baseline).Linked))
            {
                fit.Fit(sample, baseline, start);
                continue;
            }
            four.Put(queued++, sample, multiplicities);
            if (queued < PeriodRefits.Lanes)
                continue;
            four.Fit();
            queued = 0;
        }

        return until - from;
    }
}
