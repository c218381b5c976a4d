using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Groups;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>Several species' indices of one area put together, in the sample and in every resample.</summary>
internal sealed class GroupFit
{
    private GroupFit(int[] species, int[] seasons) => (Species, Seasons) = (species, seasons);

    /// <summary>The species with an index, as indices in the cell table.</summary>
    public int[] Species { get; }

    /// <summary>Every season in which one of them has effort, ascending.</summary>
    public int[] Seasons { get; }

    /// <summary>ln of the group index over 100, one a season; NaN for none.</summary>
    public double[] LogIndex { get; private init; } = [];

    /// <summary>The same of each resample, resample after resample.</summary>
    public double[] Draws { get; private init; } = [];

    /// <summary>How much of <see cref="LogIndex"/> each species accounts for: [species][season], adding up exactly.</summary>
    public double[][] Contributions { get; private init; } = [];

    /// <summary>How many species have an index in each season.</summary>
    public int[] SpeciesBySeason { get; private init; } = [];

    /// <summary>
    /// So little is heard that <see cref="Draws"/> lie far beside <see cref="LogIndex"/>, for the log of a noisy index near zero lies too low, in draws
    /// once more than in the estimate: no score is right.
    /// </summary>
    public bool LittleHeard { get; private init; }

    /// <summary>The table that <see cref="LogIndex"/> is of: [species × seasons + season], at the floor where a species is silent.</summary>
    private double[] Sample { get; init; } = [];

    /// <summary>Which species fix the level.</summary>
    private bool[] AnchorsOfLevel { get; init; } = [];

    /// <summary><see cref="SpeciesFit.Missed"/> of each species in <see cref="Seasons"/>: [species × seasons + season].</summary>
    private double[] Missed { get; init; } = [];

    /// <summary>ln of the floor, the baseline being 1.</summary>
    private double Floor { get; init; }

    /// <summary>What of <see cref="Draws"/> is linear in how often each cluster was drawn; null without species.</summary>
    public LinearPart? Linear { get; private init; }

    /// <summary>K: wetlands with a station surveyed in two seasons that heard any of the species.</summary>
    public int Clusters { get; private init; }

    /// <summary>Puts species together.</summary>
    /// <param name="fit">The area's fits.</param>
    /// <param name="candidates">The species wanted; those without an index are left out.</param>
    /// <param name="options">The floor.</param>
    /// <param name="resamples">How many resamples the fits hold.</param>
    /// <param name="parallel">How many threads may work at once, and when to stop.</param>
    public static GroupFit Of(AreaFit fit, IEnumerable<int> candidates, GroupOptions options, int resamples, ParallelOptions parallel)
    {
        int[] species = [.. candidates.Where(k => fit.Species[k].HasBaseline)];
        int[] seasons = [.. species.SelectMany(k => fit.Species[k].Series.Seasons).Distinct().Order()];
        if (species.Length == 0)
            return new GroupFit([], []);
        double floor = Math.Log(options.FloorPercent / 100);
        int[][] places = [.. species.Select(k => fit.Species[k].Series.Seasons.Select(s => Array.BinarySearch(seasons, s)).ToArray())];
        bool[] anchors = Anchors(fit, species);

        void Table(Func<int, ReadOnlyMemory<double>> course, double least, double[] table)
        {
            Array.Fill(table, double.NaN);
            for (int i = 0; i < species.Length; i++)
            {
                var values = course(i).Span;
                for (int t = 0; t < values.Length; t++)
                    table[i * seasons.Length + places[i][t]] = double.IsNaN(values[t]) ? double.NaN : Math.Max(least, values[t]);
            }
        }

        double[] sample = new double[species.Length * seasons.Length], missed = new double[sample.Length];
        Table(i => fit.Species[species[i]].LogIndex, floor, sample);
        Table(i => fit.Species[species[i]].Missed, 0, missed);
        var logIndex = new double[seasons.Length];
        var index = new AdditiveIndex(species.Length, seasons.Length);
        index.Fit(sample, anchors, logIndex);

        var draws = new double[resamples * seasons.Length];
        Parallel.For(0, resamples, parallel,
            () => (Index: new AdditiveIndex(species.Length, seasons.Length), Table: new double[sample.Length]),
            (b, _, work) =>
            {
                Table(i =>
                {
                    var one = fit.Species[species[i]];
                    return one.IndexDraws.AsMemory(b * one.LogIndex.Length, one.LogIndex.Length);
                }, floor, work.Table);
                work.Index.Fit(work.Table, anchors, draws.AsSpan(b * seasons.Length, seasons.Length));
                return work;
            },
            _ => { });

        return new GroupFit(species, seasons)
        {
            LogIndex = logIndex,
            Draws = draws,
            Contributions = index.Contributions(sample, anchors),
            SpeciesBySeason = [.. seasons.Select((_, t) => Enumerable.Range(0, species.Length).Count(i => !double.IsNaN(sample[i * seasons.Length + t])))],
            LittleHeard = BiasShare(logIndex, draws) > options.MaximumBiasShare,
            Sample = sample,
            AnchorsOfLevel = anchors,
            Missed = missed,
            Floor = floor,
            Linear = new LinearPart(fit.Plan, draws, seasons.Length),
            Clusters = species
                .Select(k => fit.Species[k].Series.Panel!)
                .SelectMany(p => Enumerable.Range(0, p.Units).Where(u => SeasonsSurveyed(p, u) >= 2).Select(p.ClusterOf))
                .Distinct()
                .Count(),
        };
    }

    /// <summary>How far the draws lie beside the estimate, in their own standard deviations: root mean squares over the seasons.</summary>
    private static double BiasShare(double[] logIndex, double[] draws)
    {
        double bias = 0, variance = 0;
        for (int t = 0; t < logIndex.Length; t++)
        {
            using var season = Fits.Draws.Stretched(draws, t, logIndex.Length, 0, 1);
            if (double.IsNaN(logIndex[t]) || season.Count < 2)
                continue;
            var (mean, spread) = season.Moments;
            bias += (mean - logIndex[t]) * (mean - logIndex[t]);
            variance += spread;
        }
        return variance > 0 ? Math.Sqrt(bias / variance) : 0;
    }

    private static int SeasonsSurveyed(Statistics.Panels.PanelCounts panel, int unit) =>
        Enumerable.Range(0, panel.Periods).Count(t => panel.Exposure(unit, t) > 0);

    /// <summary>
    /// The species with the longest baseline, of these with the earliest, fix the level; those that come late do not, nor one whose stations were listened to for fewer
    /// seasons than a baseline has.
    /// </summary>
    private static bool[] Anchors(AreaFit fit, int[] species)
    {
        int[][] baselines = [.. species.Select(k => fit.Species[k].Series.Seasons.Where((_, t) => fit.Species[k].Series.Baseline[t]).ToArray())];
        int longest = baselines.Max(seasons => seasons.Length);
        int[] earliest = baselines.Where(seasons => seasons.Length == longest)
            .Aggregate((one, other) => one.AsSpan().SequenceCompareTo(other) <= 0 ? one : other);
        return [.. baselines.Select(seasons => seasons.AsSpan().SequenceEqual(earliest))];
    }

    /// <summary>The group index with its intervals.</summary>
    /// <param name="area">The area it is told of.</param>
    /// <param name="group">Which species these are.</param>
    /// <param name="options">The confidence and what an interval needs.</param>
    public IEnumerable<GroupIndexPoint> Points(WatershedCode area, SpeciesGroup group, TrendOptions options)
    {
        bool promised = Clusters >= options.MinimumClusters && Seasons.Length >= options.MinimumSeasons;
        for (int t = 0; t < Seasons.Length; t++)
        {
            var interval = promised && !double.IsNaN(LogIndex[t]) ? IntervalOf(t, options) : null;
            yield return new GroupIndexPoint
            {
                Area = area,
                Season = Seasons[t],
                Index = double.IsNaN(LogIndex[t]) ? null : 100 * Math.Exp(LogIndex[t]),
                Lower = interval is { } low ? 100 * Math.Exp(low.Lower) : null,
                Upper = interval is { } high ? 100 * Math.Exp(high.Upper) : null,
                Species = SpeciesBySeason[t],
                Group = group,
            };
        }
    }

    /// <summary>
    /// Turned about the estimate: the log of a noisy index lies too low on average, in the draws once more than in the estimate, so that what the draws
    /// leave below belongs above. Draws of few wetlands' calls spread more than the index itself, by the part that is not linear in the wetlands drawn:
    /// with ρ the linear share of their standard deviation (<see cref="LinearPart"/>) the spread counts ρ times and the bias, which is of the order of a
    /// variance, ρ² times: ln I − ρ² (m − ln I) − f ρ (ln I*_b − m), m the draws' mean and f their stretch. No draw knows how far above the floor a
    /// silent species may stand: what its silence leaves open is put into the upper end (<see cref="JointSilence"/>).
    /// </summary>
    private Interval? IntervalOf(int season, TrendOptions options)
    {
        var weights = new double[Seasons.Length];
        weights[season] = 1;
        double share = Linear!.Share(weights), log = LogIndex[season], mean;
        using (var plain = Fits.Draws.Stretched(Draws, season, Seasons.Length, 0, 1))
            mean = plain.Moments.Mean;
        using var draws = Fits.Draws.Stretched(Draws, season, Seasons.Length, mean, -share * BootstrapInterval.Stretch(Clusters, options.Confidence));
        if (draws.TooManyLost(options))
            return null;
        var (lower, upper) = draws.Percentile(options.Confidence);
        double moved = (1 + share * share) * (log - mean);
        return new Interval(lower + moved, JointSilence.Upper(log, upper + moved, OpenAbove(season, options.Confidence)));
    }

    /// <summary>How much higher the log index would be if the season's silent species stood as high as their silence leaves open (<see cref="JointSilence"/>).</summary>
    /// <param name="season">Index of the season.</param>
    /// <param name="confidence">Of the range.</param>
    public double OpenAbove(int season, double confidence)
    {
        int[] silent = [.. Enumerable.Range(0, Species.Length).Select(i => i * Seasons.Length + season).Where(cell => !double.IsNaN(Missed[cell]))];
        if (silent.Length == 0)
            return 0;
        double[] levels = JointSilence.Levels([.. silent.Select(cell => Missed[cell])], confidence), raised = [.. Sample], course = new double[Seasons.Length];
        for (int j = 0; j < silent.Length; j++)
            raised[silent[j]] = Math.Max(Floor, Math.Log(levels[j]));
        new AdditiveIndex(Species.Length, Seasons.Length).Fit(raised, AnchorsOfLevel, course);
        return course[season] - LogIndex[season];
    }
}
