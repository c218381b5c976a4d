using System.Globalization;
using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Analysis.Tests.Occupancy;
using Indicators.Statistics.Occupancy;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks;

/// <summary>
/// What the engine says of occupancy, of species not heard and of silent stations, over worlds in which the truth is known.
/// The tables of docs/occupancy.md.
/// </summary>
internal static class OccupancyStudy
{
    private static readonly (string Name, double[] P)[] Detections = [("0.4 all along", [0.4, 0.4, 0.4]), ("0.15, 0.6, 0.3", [0.15, 0.6, 0.3])];

    private static readonly (string Name, Func<OccupancyWorld, OccupancyWorld> Make)[] Kinds =
    [
        ("as the model has it", w => w),
        ("detection differs between wetlands (sd 0.7)", w => w with { Loudness = 0.7 }),
        ("detection differs between springs (sd 0.7)", w => w with { Springs = 0.7 }),
        ("extinction differs between springs (sd 1)", w => w with { Dryness = 1 }),
        ("all three", w => w with { Loudness = 0.7, Springs = 0.7, Dryness = 1 }),
    ];

    private static readonly (string Name, Func<OccupancyWorld, OccupancyWorld> Make) OneSurvey = ("one survey a season", w => w with { OneSurvey = true });

    /// <summary>Writes the five tables.</summary>
    internal static void Run(int worlds, TextWriter output)
    {
        Occupancy(worlds, output);
        Parts(worlds, output);
        Together(worlds, output);
        Presence(worlds, output);
        Silence(worlds, output);
    }

    private static AreaResult Analyse(OccupancyWorld world, Monitoring.ProgrammeData data, uint key, int resamples, ProgrammeSettings settings) =>
        ProgrammeAnalysis.Prepare(data, settings, new RunOptions { Seed = key, Resamples = resamples })
            .Analyse(OccupancyWorld.Area, 1, CancellationToken.None);

    private static void Occupancy(int worlds, TextWriter output)
    {
        var settings = new ProgrammeSettings { Occupancy = new OccupancyOptions { MinimumWetlands = 5 } };
        output.WriteLine("| wetlands | seasons | detection | world | series | ψ given | true ψ | raw share | ψ | interval given | holds | width | p given | p | true p | p holds |");
        output.WriteLine("|--:|--:|---|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (int wetlands in new[] { 6, 10, 20, 40 })
            foreach (int seasons in new[] { 8, 20 })
                foreach (var (name, p) in Detections)
                    Row(wetlands, seasons, name, p, Kinds[0]);
        foreach (int wetlands in new[] { 10, 20, 40 })
            Row(wetlands, 12, Detections[1].Name, Detections[1].P, ("hardly any come or go (0.01)", w => w with { Colonise = 0.01, Vanish = 0.01 }));
        foreach (var kind in Kinds[1..])
            Row(20, 12, Detections[1].Name, Detections[1].P, kind);
        foreach (int wetlands in new[] { 10, 20, 40 })
            Row(wetlands, 12, "0.4", Detections[0].P, OneSurvey);
        foreach (double p in new[] { 0.2, 0.6 })
            Row(20, 12, p.ToString("0.0", CultureInfo.InvariantCulture), [p, p, p], OneSurvey);
        foreach (var (name, make) in Kinds[1..])
            Row(20, 12, "0.4", Detections[0].P, ($"{OneSurvey.Name}, {name}", w => OneSurvey.Make(make(w))));

        void Row(int wetlands, int seasons, string name, double[] p, (string Name, Func<OccupancyWorld, OccupancyWorld> Make) kind)
        {
            var world = kind.Make(new OccupancyWorld(wetlands, seasons, 0.6, 0.08, 0.15, p));
            // Where extinction differs between springs, the truth is what the worlds hold on average.
            double truth = world.Dryness == 0 ? world.PsiIn(seasons - 1) : Sum(worlds, 1, key => [OccupiedAtTheEnd(world, key)])[0] / worlds;
            var sum = Sum(worlds, 10, key =>
            {
                var (data, _) = world.Draw(key);
                var result = Analyse(world, data, key, 1, settings);
                double[] s = new double[10];
                foreach (var point in result.Occupancy.Where(o => o.Season == OccupancyWorld.FirstSeason + seasons - 1))
                {
                    s[0]++;
                    s[1] += point.RawShare!.Value;
                    if (point.Psi is not { } psi)
                        continue;
                    (s[2], s[3]) = (s[2] + 1, s[3] + psi);
                    if (point is { Lower: { } low, Upper: { } high })
                        (s[4], s[5], s[6]) = (s[4] + 1, s[5] + Holds(low, high, truth), s[6] + high - low);
                }
                foreach (var rate in result.Detection.Where(d => d.Part == WindowPart.Early && d.Lower is not null))
                    (s[7], s[8], s[9]) = (s[7] + 1, s[8] + rate.P, s[9] + Holds(rate.Lower!.Value, rate.Upper!.Value, p[0]));
                return s;
            });
            Line(output, $"| {wetlands} | {seasons} | {name} | {kind.Name} | {sum[0]} | {sum[2] / sum[0]:0.000} | {truth:0.000} | {sum[1] / sum[0]:0.000} | {sum[3] / sum[2]:0.000} | {sum[4] / sum[0]:0.000} | {sum[5] / sum[4]:0.000} | {sum[6] / sum[4]:0.00} | {sum[7] / sum[0]:0.000} | {sum[8] / sum[7]:0.000} | {p[0]:0.00} | {sum[9] / sum[7]:0.000} |");
        }
    }

    private static double OccupiedAtTheEnd(OccupancyWorld world, uint key) =>
        world.Draw(key).Occupied.Average(o => Enumerable.Range(0, world.Wetlands).Average(w => o[w, world.Seasons - 1] ? 1.0 : 0));

    /// <summary>One rate of detection for the whole window, or one for each third: the same surveys fitted both ways.</summary>
    private static void Parts(int worlds, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("| wetlands | detection | rates | series | true ψ | ψ | interval given | holds | width |");
        output.WriteLine("|--:|---|--:|--:|--:|--:|--:|--:|--:|");
        const int Seasons = 12;
        foreach (int wetlands in new[] { 10, 20, 40 })
        {
            foreach (var (name, p) in Detections.Append(("0.05, 0.7, 0.1", [0.05, 0.7, 0.1])))
            {
                var world = new OccupancyWorld(wetlands, Seasons, 0.6, 0.08, 0.15, p);
                double truth = world.PsiIn(Seasons - 1);
                foreach (int rates in new[] { 1, 3 })
                {
                    var sum = Sum(worlds, 5, key =>
                    {
                        var data = world.Draw(key).Data;
                        double[] s = new double[5];
                        for (int k = 0; k < world.Species; k++)
                        {
                            var fit = MultiSeasonOccupancy.Fit(new DetectionHistories(wetlands, Seasons, VisitsOf(data, k, rates), rates), TransitionGroups.Constant(Seasons));
                            if (fit.Occupancy(Seasons - 1) is not { } psi)
                                continue;
                            (s[0], s[1]) = (s[0] + 1, s[1] + psi.Value);
                            if (psi.Interval is { } ends)
                                (s[2], s[3], s[4]) = (s[2] + 1, s[3] + Holds(ends.Lower, ends.Upper, truth), s[4] + ends.Upper - ends.Lower);
                        }
                        return s;
                    });
                    Line(output, $"| {wetlands} | {name} | {rates} | {sum[0]} | {truth:0.000} | {sum[1] / sum[0]:0.000} | {sum[2] / sum[0]:0.000} | {sum[3] / sum[2]:0.000} | {sum[4] / sum[2]:0.00} |");
                }
            }
        }
    }

    /// <summary>
    /// A species silent in the last three seasons: the chance at the likeliest wetland, and that of all wetlands put together
    /// as if they were independent given the rates, by what the latter says.
    /// </summary>
    private static void Together(int worlds, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("| world | chance all together | cases | all together | likeliest wetland | was there |");
        output.WriteLine("|---|---|--:|--:|--:|--:|");
        double[] ends = [0, 0.1, 0.3, 0.5, 0.7, 1];
        foreach (var kind in Kinds)
        {
            var sum = Sum(worlds, 5 * 4, key =>
            {
                var world = kind.Make(Wide(key));
                var (data, occupied) = world.Draw(key);
                double[] s = new double[5 * 4];
                int until = world.Seasons - 3;
                for (int k = 0; k < world.Species; k++)
                {
                    var visits = VisitsOf(data, k, 3);
                    int heard = visits.Where(v => v.Detected).Select(v => v.Season).DefaultIfEmpty(-1).Max();
                    if (heard < 0 || heard >= until)
                        continue;
                    var histories = new DetectionHistories(world.Wetlands, world.Seasons, visits, 3);
                    var fit = MultiSeasonOccupancy.Fit(histories, TransitionGroups.Constant(world.Seasons));
                    if (fit.Status != OccupancyStatus.Interior || ParameterDraws.Of(fit, 200, key, 1) is not { } draws)
                        continue;
                    var likelihood = new OccupancyLikelihood(histories, fit.Groups);
                    double[] point = new double[fit.Layout.Count], one = new double[world.Wetlands], mean = new double[world.Wetlands];
                    double all = 0;
                    for (int b = 0; b < draws.Count; b++)
                    {
                        draws.Draw(b, point);
                        likelihood.Unbroken(point, heard, until, world.Seasons - 1, one);
                        double none = 1;
                        for (int w = 0; w < one.Length; w++)
                        {
                            mean[w] += one[w] / draws.Count;
                            none *= 1 - one[w];
                        }
                        all += (1 - none) / draws.Count;
                    }
                    bool there = Enumerable.Range(0, world.Wetlands).Any(w => Enumerable.Range(until, 3).Any(t => occupied[k][w, t]));
                    int bin = Array.FindIndex(ends, 1, end => all <= end + 1e-12) - 1;
                    s[bin * 4]++;
                    s[bin * 4 + 1] += all;
                    s[bin * 4 + 2] += mean.Max();
                    s[bin * 4 + 3] += there ? 1 : 0;
                }
                return s;
            });
            for (int bin = 0; bin < 5; bin++)
                if (sum[bin * 4] > 0)
                    Line(output, $"| {kind.Name} | {ends[bin]} to {ends[bin + 1]} | {sum[bin * 4]} | {sum[bin * 4 + 1] / sum[bin * 4]:0.000} | {sum[bin * 4 + 2] / sum[bin * 4]:0.000} | {sum[bin * 4 + 3] / sum[bin * 4]:0.000} |");
        }
    }

    /// <summary>Wide on purpose: 10 to 30 wetlands, 10 to 20 seasons; frogs that come from the wetlands around, or no more.</summary>
    private static OccupancyWorld Wide(uint key)
    {
        uint counter = 0;
        double Next() => (Philox.Block(counter++, 3, 3, 3, key, 20260407).W0 + 0.5) / 4294967296.0;
        double vanish = 0.1 + 0.4 * Next(), p = 0.1 + 0.5 * Next();
        return new OccupancyWorld(10 + (int)(21 * Next()), 10 + (int)(11 * Next()), 0.1 + 0.4 * Next(), 0, vanish, [p * 0.6, p, p * 0.8])
        {
            FromNeighbours = vanish * 1.3 * Next(),
            Companions = 3,
        };
    }

    private static Visit[] VisitsOf(Monitoring.ProgrammeData data, int k, int rates) => [.. data.Surveys.Select(v => new Visit(
        int.Parse(v.Station.ToString()[1..], CultureInfo.InvariantCulture), v.Date.Year - OccupancyWorld.FirstSeason,
        v.Calls.Any(c => c.Species == OccupancyWorld.Focal(k)), rates == 1 ? 0 : v.Date.Month < 5 ? 0 : v.Date.Month < 7 ? 1 : 2))];

    private static void Presence(int worlds, TextWriter output)
    {
        string[] bins = ["0", "0 to 0.1", "0.1 to 0.3", "0.3 to 0.5", "0.5 to 0.7", "0.7 to 1"];
        double[] ends = [0, 0.1, 0.3, 0.5, 0.7, 1];
        output.WriteLine();
        output.WriteLine("| world | chance said | cases | mean chance said | was there | squared error | squared error of 0 |");
        output.WriteLine("|---|---|--:|--:|--:|--:|--:|");
        foreach (var kind in Kinds)
        {
            var sum = Sum(worlds, bins.Length * 4, key =>
            {
                var world = kind.Make(Wide(key));
                var (data, occupied) = world.Draw(key);
                var settings = new ProgrammeSettings();
                var result = Analyse(world, data, key, 20, settings);
                double[] s = new double[bins.Length * 4];
                foreach (var condition in result.Conditions.Where(c => c.Score is not null))
                {
                    int last = condition.Season - OccupancyWorld.FirstSeason, first = last - settings.Score.WindowSeasons + 1;
                    for (int k = 0; k < world.Species; k++)
                    {
                        double missing = condition.Lines.Single(l => l.Part == ScorePart.Presence && l.Species == OccupancyWorld.Focal(k)).Points;
                        double chance = 1 + missing * condition.Expected / (100 * settings.Score.PresenceWeight);
                        bool heard = data.Surveys.Any(v => v.Date.Year >= condition.Season - 2 && v.Date.Year <= condition.Season && v.Calls.Any(c => c.Species == OccupancyWorld.Focal(k)));
                        bool before = data.Surveys.Any(v => v.Date.Year < condition.Season - 2 && v.Calls.Any(c => c.Species == OccupancyWorld.Focal(k)));
                        if (heard || !before)
                            continue;
                        bool there = Enumerable.Range(0, world.Wetlands).Any(w => Enumerable.Range(first, last - first + 1).Any(t => occupied[k][w, t]));
                        int bin = chance < 1e-12 ? 0 : Array.FindIndex(ends, 1, end => chance <= end + 1e-12);
                        double truth = there ? 1 : 0;
                        s[bin * 4]++;
                        s[bin * 4 + 1] += chance;
                        s[bin * 4 + 2] += truth;
                        s[bin * 4 + 3] += (chance - truth) * (chance - truth);
                    }
                }
                return s;
            });
            for (int bin = 0; bin < bins.Length; bin++)
                if (sum[bin * 4] > 0)
                    Row(bins[bin], bin, bin + 1);
            Row("any", 0, bins.Length);

            void Row(string name, int from, int to)
            {
                double n = 0, chance = 0, there = 0, error = 0;
                for (int bin = from; bin < to; bin++)
                    (n, chance, there, error) = (n + sum[bin * 4], chance + sum[bin * 4 + 1], there + sum[bin * 4 + 2], error + sum[bin * 4 + 3]);
                // Taken for absent, the error is 1 wherever it was there.
                Line(output, $"| {kind.Name} | {name} | {n} | {chance / n:0.000} | {there / n:0.000} | {error / n:0.000} | {there / n:0.000} |");
            }
        }
    }

    private static void Silence(int worlds, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("| world | detection | list | tested | listed | expected by chance, at most | emptied or filled | of them listed |");
        output.WriteLine("|---|---|---|--:|--:|--:|--:|--:|");
        (string Name, double Springs, int Emptied, int Filled)[] worldsOf =
        [
            ("nothing changes", 0, int.MaxValue, 0), ("nothing changes, springs differ (sd 0.7)", 0.7, int.MaxValue, 0),
            ("a fifth emptied three seasons ago", 0, 12, 0), ("a fifth emptied six seasons ago", 0, 9, 0), ("a fifth filled three seasons ago", 0, int.MaxValue, 12),
        ];
        foreach (var (name, springs, emptied, filled) in worldsOf)
        {
            foreach (var (detection, p) in Detections)
            {
                var world = new OccupancyWorld(25, 15, 0.6, 0, 0, p) { Springs = springs, EmptiedFrom = emptied, FilledFrom = filled, EmptiedEvery = 5 };
                var sum = Sum(worlds, 8, key =>
                {
                    var (data, occupied) = world.Draw(key);
                    var result = Analyse(world, data, key, 1, new ProgrammeSettings());
                    double[] s = new double[8];
                    foreach (var kind in Enum.GetValues<SilenceKind>())
                    {
                        var tally = result.SilenceTallies.Single(t => t.Kind == kind);
                        int at = kind == SilenceKind.GoneQuiet ? 0 : 3;
                        (s[at], s[at + 1], s[at + 2]) = (tally.Tested, tally.Listed, tally.ExpectedByChance);
                    }
                    var changed = filled > 0 ? SilenceKind.NewlyHeard : SilenceKind.GoneQuiet;
                    for (int k = 0; k < world.Species && (filled > 0 || emptied < int.MaxValue); k++)
                    {
                        for (int w = 0; w < world.Wetlands; w += 5)
                        {
                            string station = string.Create(CultureInfo.InvariantCulture, $"s{w:000}");
                            bool moved = filled > 0 || occupied[k][w, emptied - 1];
                            s[6] += moved ? 1 : 0;
                            s[7] += moved && result.Silences.Any(q => q.Kind == changed && q.Species == OccupancyWorld.Focal(k) && q.Station.ToString() == station) ? 1 : 0;
                        }
                    }
                    return s;
                });
                string found = sum[6] > 0 ? string.Create(CultureInfo.InvariantCulture, $"{sum[6]} | {sum[7] / sum[6]:0.000}") : "|";
                Line(output, $"| {name} | {detection} | gone quiet | {sum[0]} | {sum[1]} | {sum[2]:0} | {(filled > 0 ? "|" : found)} |");
                Line(output, $"| {name} | {detection} | newly heard | {sum[3]} | {sum[4]} | {sum[5]:0} | {(filled > 0 ? found : "|")} |");
            }
        }
    }

    private static double[] Sum(int worlds, int length, Func<uint, double[]> one)
    {
        var all = new double[worlds][];
        Parallel.For(0, worlds, world => all[world] = one((uint)world));
        var sum = new double[length];
        foreach (double[] part in all)
            for (int i = 0; i < length; i++)
                sum[i] += part[i];
        return sum;
    }

    private static double Holds(double low, double high, double truth) => low <= truth && truth <= high ? 1 : 0;

    private static void Line(TextWriter output, FormattableString line) => output.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
