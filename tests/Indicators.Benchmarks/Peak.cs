using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks;

/// <summary>
/// How many multiply-adds a second the annual model's hot loop comes to, beside what one core does of the same instructions
/// with nothing to load or store. One thread; the best of several rounds each, for both are bounds from below.
/// </summary>
public static class Peak
{
    private const int Rounds = 100;

    public static void Run(TextWriter to)
    {
        var state = new StateProgramme(1);
        PanelCounts[] panels = [.. Enumerable.Range(0, StateProgramme.Species).Select(k => state.Panel(0, k))];
        var four = panels.Select(Filled).ToArray();
        double peak = Best(() => Registers(2_000_000)), loop = Best(() => four.Sum(HotLoop));
        to.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"multiply-adds a second, one thread: {peak / 1e9:0.0} billion in registers, {loop / 1e9:0.0} billion in the annual model's fit, 1 in {peak / loop:0.00}"));
    }

    private static double Best(Func<double> work)
    {
        double best = 0;
        for (int i = 0; i < Rounds; i++)
        {
            long start = Stopwatch.GetTimestamp();
            double done = work();
            best = Math.Max(best, done / Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        return best;
    }

    private static (PeriodRefits Fit, Resample[] Samples, int[][] Drawn, PanelCounts Panel) Filled(PanelCounts panel)
    {
        bool[] baseline = [.. Enumerable.Range(0, panel.Periods).Select(t => t < 3)];
        var (plan, fit, annual) = (new ResamplingPlan(1, 1, panel.ClusterCount), new PeriodRefits(panel, baseline), new PeriodFit(panel));
        var samples = new List<Resample>();
        var drawn = new List<int[]>();
        for (int b = 0; samples.Count < PeriodRefits.Lanes; b++)
        {
            var (sample, multiplicities) = (new Resample(panel), new int[panel.ClusterCount]);
            plan.Draw(b, multiplicities);
            sample.Fill(multiplicities);
            if (!fit.Takes(sample, annual.Compare(sample, baseline).Linked))
                continue;
            samples.Add(sample);
            drawn.Add(multiplicities);
        }
        return (fit, [.. samples], [.. drawn], panel);
    }

    /// <summary>Fits four resamples again and again: put into the lanes, expected counts, step, and again until they settle.</summary>
    private static double HotLoop((PeriodRefits Fit, Resample[] Samples, int[][] Drawn, PanelCounts Panel) one)
    {
        double done = 0;
        for (int i = 0; i < 500; i++)
        {
            for (int lane = 0; lane < PeriodRefits.Lanes; lane++)
                one.Fit.Put(lane, one.Samples[lane], one.Drawn[lane]);
            one.Fit.Fit();
            // Two products a unit and period, and one of the inverse with the step; four lanes.
            done += one.Fit.Iterations * 4.0 * (2.0 * one.Panel.Units * one.Panel.Periods + one.Panel.Periods * one.Panel.Periods);
        }
        return done;
    }

    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    private static double Registers(int times)
    {
        Vector256<double> x = Vector256.Create(1 - 1e-9), y = Vector256.Create(1e-9);
        Vector256<double> a = x, b = x, c = x, d = x, e = x, f = x, g = x, h = x, i = x, j = x, k = x, l = x;
        for (int n = 0; n < times; n++)
        {
            a = Vector256.FusedMultiplyAdd(a, x, y);
            b = Vector256.FusedMultiplyAdd(b, x, y);
            c = Vector256.FusedMultiplyAdd(c, x, y);
            d = Vector256.FusedMultiplyAdd(d, x, y);
            e = Vector256.FusedMultiplyAdd(e, x, y);
            f = Vector256.FusedMultiplyAdd(f, x, y);
            g = Vector256.FusedMultiplyAdd(g, x, y);
            h = Vector256.FusedMultiplyAdd(h, x, y);
            i = Vector256.FusedMultiplyAdd(i, x, y);
            j = Vector256.FusedMultiplyAdd(j, x, y);
            k = Vector256.FusedMultiplyAdd(k, x, y);
            l = Vector256.FusedMultiplyAdd(l, x, y);
        }
        // What is summed is used, or nothing need be computed.
        return Vector256.Sum(a + b + c + d + e + f + g + h + i + j + k + l) > 0 ? times * 48.0 : 0;
    }
}
