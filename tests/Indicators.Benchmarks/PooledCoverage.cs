using System.Globalization;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Pooling;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Benchmarks;

/// <summary>
/// How often the pooled mean's interval holds the mean slope, and the shrunken intervals each watershed's own, over worlds in
/// which both are known, with and without good and bad springs shared by all watersheds.
/// </summary>
/// <remarks>
/// Wetlands, surveys and call levels are as in <see cref="IntervalCoverage"/>. One species; watersheds have 2 to 20 wetlands,
/// every fifth too few to have an interval of its own; their slopes vary by the spread given.
/// </remarks>
internal static class PooledCoverage
{
    private const double Slope = -0.02, WetlandLevelSd = 0.5, WetlandSlopeSd = 0.03, MeanChance = 0.2, Missing = 0.2, Confidence = 0.95;
    private const int FewestClusters = 5;
    private static readonly int[] WetlandsOf = [8, 6, 12, 3, 20, 10, 5, 15, 2, 7];

    private static readonly (int Areas, int Seasons, double Shared, double Own, double Between, double Lasting)[] Cells =
    [
        (6, 8, 0, 0, 0.02, 0), (6, 8, 0.3, 0, 0.02, 0), (6, 15, 0, 0, 0.02, 0), (6, 15, 0.3, 0, 0.02, 0),
        (12, 8, 0, 0, 0.02, 0), (12, 8, 0.1, 0, 0.02, 0), (12, 8, 0.3, 0, 0.02, 0), (12, 8, 0.2, 0.2, 0.02, 0),
        (12, 15, 0, 0, 0, 0), (12, 15, 0, 0, 0.02, 0), (12, 15, 0.1, 0, 0.02, 0), (12, 15, 0.3, 0, 0, 0), (12, 15, 0.3, 0, 0.02, 0), (12, 15, 0.3, 0, 0.05, 0),
        (12, 15, 0.2, 0.2, 0.02, 0), (12, 25, 0.3, 0, 0.02, 0),
        (60, 8, 0.3, 0, 0.02, 0), (60, 20, 0, 0, 0.02, 0), (60, 20, 0.1, 0.1, 0.02, 0), (60, 20, 0.3, 0, 0.02, 0),
        (3, 8, 0, 0, 0, 0), (3, 8, 0, 0, 0.02, 0), (3, 8, 0.3, 0, 0.02, 0), (3, 15, 0, 0, 0, 0), (3, 15, 0, 0, 0.02, 0), (3, 15, 0.1, 0.1, 0.02, 0), (3, 15, 0, 0, 0.05, 0),
        (6, 15, 0, 0, 0, 0), (6, 15, 0.2, 0, 0.02, 0.3), (6, 15, 0.2, 0, 0.02, 0.5),
        (12, 8, 0.2, 0, 0.02, 0.3), (12, 8, 0.2, 0, 0.02, 0.5), (12, 15, 0.2, 0, 0.02, 0.3), (12, 15, 0.2, 0, 0.02, 0.5), (12, 15, 0.2, 0.2, 0.02, 0.5),
        (60, 20, 0.2, 0, 0.02, 0.3), (60, 20, 0.2, 0, 0.02, 0.5),
    ];

    /// <summary>Runs the grid and writes one line a cell.</summary>
    internal static void Run(int worlds, int resamples, TextWriter output)
    {
        output.WriteLine("| areas | seasons | shared sd | own sd | lasting | between sd | worlds | mean held | as if independent | mean's width | one more area held | shrunken held | of few wetlands | between sd found | shared sd found | own sd found |");
        output.WriteLine("|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        for (int cell = 0; cell < Cells.Length; cell++)
            output.WriteLine(Cell(cell, worlds, resamples));
    }

    private static string Cell(int cell, int worlds, int resamples)
    {
        var (areas, seasons, sharedSd, ownSd, between, lasting) = Cells[cell];
        var all = new Tally[worlds];
        Parallel.For(0, worlds, world => all[world] = World(cell, (uint)world, resamples));
        var sum = all.Aggregate((one, other) => one.Plus(other));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {areas} | {seasons} | {sharedSd} | {ownSd} | {lasting} | {between} | {sum.Worlds} | {sum.Mean / sum.Worlds:0.000} | {sum.Apart / sum.Worlds:0.000} | {100 * sum.Width / sum.Worlds:0.0} | {sum.OneMore / sum.Worlds:0.000} | {Share(sum.Shrunken, sum.Areas)} | {Share(sum.Few, sum.FewAreas)} | {sum.Tau / sum.Worlds:0.000} | {sum.SharedSd / sum.Worlds:0.000} | {sum.OwnSd / sum.Worlds:0.000} |");
    }

    /// <summary>A share, or nothing where there was none to be held.</summary>
    private static string Share(double held, double all) => all == 0 ? "" : (held / all).ToString("0.000", CultureInfo.InvariantCulture);

    private readonly record struct Tally(
        double Worlds, double Mean, double Apart, double Width, double OneMore, double Areas, double Shrunken, double FewAreas, double Few,
        double Tau, double SharedSd, double OwnSd)
    {
        public Tally Plus(Tally o) => new(
            Worlds + o.Worlds, Mean + o.Mean, Apart + o.Apart, Width + o.Width, OneMore + o.OneMore, Areas + o.Areas, Shrunken + o.Shrunken,
            FewAreas + o.FewAreas, Few + o.Few, Tau + o.Tau, SharedSd + o.SharedSd, OwnSd + o.OwnSd);
    }

    private static Tally World(int cell, uint world, int resamples)
    {
        var (areas, seasons, sharedSd, ownSd, between, lasting) = Cells[cell];
        var random = new Stream((uint)cell, world);
        double[] shocks = Springs(random, seasons, sharedSd, lasting);
        var parts = new List<SlopePart>();
        var truths = new List<double>();
        for (int area = 0; area < areas; area++)
        {
            double slope = Slope + between * random.Normal();
            double[] own = [.. shocks.Zip(Springs(random, seasons, ownSd, lasting), (shared, alone) => shared + alone)];
            var panel = Panel(random, WetlandsOf[area % WetlandsOf.Length], slope, own);
            if (panel is null || Part(panel, (uint)cell << 16 | (uint)area, world, resamples) is not { } part)
                continue;
            parts.Add(part);
            truths.Add(slope);
        }
        if (SlopePooling.Of(parts) is not { } pooling)
            return default;
        var mean = pooling.Mean(BetweenVarianceMethod.RestrictedMaximumLikelihood, Confidence);
        var alone = parts.Where(p => p.OwnVariance is not null).ToArray();
        var apart = PooledMean.Of(JointEstimates.Independent([.. alone.Select(p => p.Slope)], [.. alone.Select(p => p.OwnVariance!.Value)]));
        var tally = new Tally(
            1, Held(mean.Interval, Slope), apart is null ? 0 : Held(apart.HartungKnappInterval(Confidence), Slope), mean.Interval.Upper - mean.Interval.Lower,
            Held(pooling.Prediction(mean.Pooled, Confidence), Slope + between * random.Normal()), 0, 0, 0, 0, Math.Sqrt(mean.Pooled.Between.Value), Math.Sqrt(pooling.Shocks.Shared), Math.Sqrt(pooling.Shocks.Own));
        if (pooling.Shrunken(Confidence) is not { } shrunken)
            return tally;
        for (int i = 0; i < parts.Count; i++)
        {
            double held = Held(shrunken[i].Interval, truths[i]);
            bool few = parts[i].OwnVariance is null;
            tally = tally.Plus(new Tally(0, 0, 0, 0, 0, 1, held, few ? 1 : 0, few ? held : 0, 0, 0, 0));
        }
        return tally;
    }

    /// <summary>Springs of one standard deviation, each correlated with the one before.</summary>
    private static double[] Springs(Stream random, int seasons, double sd, double lasting)
    {
        var springs = new double[seasons];
        for (int t = 0; t < seasons; t++)
            springs[t] = t == 0 ? sd * random.Normal() : lasting * springs[t - 1] + Math.Sqrt(1 - lasting * lasting) * sd * random.Normal();
        return springs;
    }

    private static double Held(Interval interval, double truth) => interval.Lower <= truth && truth <= interval.Upper ? 1 : 0;

    /// <summary>One watershed's counts, or null when nothing was heard.</summary>
    private static PanelCounts? Panel(Stream random, int wetlands, double slope, double[] shocks)
    {
        int seasons = shocks.Length;
        var counts = new List<double>();
        var exposures = new List<double>();
        for (int w = 0; w < wetlands; w++)
        {
            double level = Math.Log(MeanChance) + WetlandLevelSd * random.Normal(), own = slope + WetlandSlopeSd * random.Normal();
            double[] y = new double[seasons], n = new double[seasons];
            for (int t = 0; t < seasons; t++)
            {
                double chance = Math.Min(1, Math.Exp(level + own * (t - (seasons - 1) / 2.0) + shocks[t]));
                for (int visit = 0; visit < 3; visit++)
                {
                    if (random.Next() < Missing)
                        continue;
                    n[t]++;
                    y[t] += Enumerable.Range(0, 3).Count(_ => random.Next() < chance);
                }
            }
            if (y.Sum() == 0)
                continue;
            counts.AddRange(y);
            exposures.AddRange(n);
        }
        return counts.Count == 0 ? null : new PanelCounts([.. Enumerable.Range(0, seasons).Select(t => (double)t)], [.. counts], [.. exposures]);
    }

    private static SlopePart? Part(PanelCounts panel, uint stream, uint seed, int resamples)
    {
        var slope = TrendFit.Of(panel);
        int seasons = panel.Periods, clusters = panel.InformativeClusters(seasons);
        if (slope.Status != SlopeStatus.Finite)
            return null;
        var residuals = SeasonResiduals.Of(panel, seasons, slope.Value);
        double? variance = null, residualVariance = null;
        var evidence = SeasonCarryOver.NoEvidence;
        if (clusters >= FewestClusters)
        {
            var plan = new ResamplingPlan(seed, stream, panel.ClusterCount);
            var multiplicities = new int[panel.ClusterCount];
            var sample = new Resample(panel);
            var fit = new TrendFit(seasons);
            var expansion = new TrendExpansion(panel, seasons, slope.Value);
            var scratch = new double[SeasonResiduals.ScratchLength(panel)];
            double[] slopes = new double[resamples], draws = new double[seasons * resamples];
            for (int b = 0; b < resamples; b++)
            {
                plan.Draw(b, multiplicities);
                sample.Fill(multiplicities);
                slopes[b] = fit.Refit(sample, expansion).Value;
                SeasonResiduals.OfResample(sample, seasons, slopes[b], scratch, draws.AsSpan(b), resamples);
            }
            double omega = clusters / (clusters - 1.0);
            variance = omega * Variance(slopes);
            residualVariance = omega * Enumerable.Range(0, seasons).Sum(t => Variance(draws[(t * resamples)..((t + 1) * resamples)]));
            evidence = new UnderlyingSlopes(
                [new ShockSeries(slope.Value, slopes, residuals, draws, [.. Enumerable.Range(0, seasons)], clusters)], new double[resamples]).CarryOverEvidence();
        }
        return new SlopePart
        {
            Slope = slope.Value,
            Information = slope.Information,
            OwnVariance = variance,
            Clusters = clusters,
            Periods = [.. Enumerable.Range(0, seasons)],
            Leverage = SeasonResiduals.Of(panel, seasons, 0).Leverage,
            Residuals = residuals.Residuals,
            ResidualVariance = residualVariance,
            ResponseByLag = residuals.Response.SquaresByLag,
            CarryOverEvidence = evidence,
        };
    }

    private static double Variance(double[] values)
    {
        double[] finite = [.. values.Where(double.IsFinite)];
        double mean = finite.Average();
        return finite.Sum(v => (v - mean) * (v - mean)) / (finite.Length - 1);
    }

    /// <summary>Uniform and normal numbers of one world.</summary>
    private sealed class Stream(uint cell, uint world)
    {
        private uint _counter;

        public double Next() => Philox.Block(_counter++, world, cell, 5, 20261126, 0).W0 / 4294967296.0;

        public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());
    }
}
