using System.Globalization;
using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Smooth;
using NodaTime;

namespace Indicators.Benchmarks;

/// <summary>
/// How often the pointwise band of the smooth course holds the expected course, season by season, and the interval of the fastest fall its
/// season, over worlds in which both are known: a straight line, a wave, and a sudden fall, with and without springs that
/// all wetlands share.
/// </summary>
/// <remarks>
/// A survey's call level is the sum of three coin throws, so that its expectation is on the course exactly; three surveys a season, a fifth of
/// them missing; wetlands differ in level (standard deviation 0.5, log scale) and in slope (0.03 a season).
/// </remarks>
internal static class SmoothCoverage
{
    private const double WetlandLevelSd = 0.5, WetlandSlopeSd = 0.03, MeanChance = 0.2, Missing = 0.2;
    private const int SpeciesCount = 4;
    private static readonly Species[] Species = [.. Enumerable.Range(0, SpeciesCount).Select(k => new Species
    {
        Id = Id<Species>.Parse($"s{k}").Value,
        ScientificName = $"Rana {k}",
        CommonName = $"frog {k}",
        Window = new CallingWindow(new AnnualDate(4, 1), new AnnualDate(7, 31)),
        Conservatism = Conservatism.Parse("5").Value,
    })];

    private enum Course
    {
        Line,
        Wave,
        Fall,
    }

    /// <summary>Runs the grid and writes one line a cell.</summary>
    internal static void Run(int worlds, int resamples, TextWriter output)
    {
        output.WriteLine("| course | wetlands | seasons | shock sd | series | smoothed course | its least season | each season itself | its least season | beneath the springs | band's width | freedom | season of the fall | its range's width | bends told |");
        output.WriteLine("|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (var course in Enum.GetValues<Course>())
            foreach (int wetlands in new[] { 6, 12, 25, 50 })
                foreach (int seasons in new[] { 10, 20 })
                    foreach (double shock in new[] { 0, 0.2 })
                        output.WriteLine(Cell(course, wetlands, seasons, shock, worlds, resamples));
    }

    private static string Cell(Course course, int wetlands, int seasons, double shock, int worlds, int resamples)
    {
        var all = new Tally[worlds];
        Parallel.For(0, worlds, world => all[world] = World(course, wetlands, seasons, shock, (uint)world, resamples));
        double n = all.Sum(t => t.Series);
        double[] held = [.. Enumerable.Range(0, seasons).Select(t => all.Sum(w => w.Held[t]) / n)];
        double[] smoothed = [.. Enumerable.Range(0, seasons).Select(t => all.Sum(w => w.HeldSmoothed[t]) / n)];
        double falls = all.Sum(t => t.Falls);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {course.ToString().ToLowerInvariant()} | {wetlands} | {seasons} | {shock} | {n} | {smoothed.Average():0.000} | {smoothed.Min():0.000} | {held.Average():0.000} | {held.Min():0.000} | {all.Sum(t => t.Beneath) / n / seasons:0.000} | {all.Sum(t => t.Width) / n / seasons:0} | {all.Sum(t => t.Freedom) / n:0.0} | {(course == Course.Fall ? string.Create(CultureInfo.InvariantCulture, $"{all.Sum(t => t.FallHeld) / falls:0.000} | {all.Sum(t => t.FallWidth) / falls:0.0}") : " | ")} | {all.Sum(t => t.Bends) / n / (seasons - 2):0.000} |");
    }

    private sealed record Tally(int[] Held, int[] HeldSmoothed)
    {
        public int Series { get; set; }

        public double Beneath { get; set; }

        public double Width { get; set; }

        public double Freedom { get; set; }

        public double Falls { get; set; }

        public double FallHeld { get; set; }

        public double FallWidth { get; set; }

        public double Bends { get; set; }
    }

    /// <summary>The course beneath the springs on the log scale, d seasons from the middle.</summary>
    private static double Beneath(Course course, double d, int seasons) => course switch
    {
        Course.Line => -0.02 * d,
        Course.Wave => 0.4 * Math.Sin(3 * Math.PI * d / seasons),
        _ => -0.5 * Math.Tanh(d - 0.25),
    };

    private static Tally World(Course course, int wetlands, int seasons, double shockSd, uint world, int resamples)
    {
        uint counter = 0;
        double Next() => Philox.Block(counter++, world, (uint)((int)course * 100000 + wetlands * 1000 + seasons), (uint)(shockSd * 1000), 20261126, 0).W0 / 4294967296.0;
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());
        double[][] shocks = [.. Species.Select(_ => Enumerable.Range(0, seasons).Select(_ => shockSd * Normal()).ToArray())];
        var stations = new List<Station>();
        var surveys = new List<Survey>();
        for (int w = 0; w < wetlands; w++)
        {
            var station = Id<Station>.Parse(string.Create(CultureInfo.InvariantCulture, $"w{w:00}")).Value;
            stations.Add(new Station
            {
                Id = station,
                Wetland = Id<Wetland>.Parse(station.ToString()).Value,
                Watershed = WatershedCode.Parse("99").Value,
                Place = GeoPoint.At(46, -91),
            });
            double[] level = [.. Species.Select(_ => Math.Log(MeanChance) + WetlandLevelSd * Normal())];
            double[] slope = [.. Species.Select(_ => WetlandSlopeSd * Normal())];
            for (int t = 0; t < seasons; t++)
            {
                double d = t - (seasons - 1) / 2.0;
                for (int visit = 0; visit < 3; visit++)
                {
                    if (Next() < Missing)
                        continue;
                    var calls = new List<Call>();
                    for (int k = 0; k < SpeciesCount; k++)
                    {
                        double chance = Math.Min(1, Math.Exp(level[k] + slope[k] * d + Beneath(course, d, seasons) + shocks[k][t]));
                        int heard = Enumerable.Range(0, 3).Count(_ => Next() < chance);
                        if (heard > 0)
                            calls.Add(new Call(Species[k].Id, CallLevel.Of(heard).Value));
                    }
                    surveys.Add(new Survey
                    {
                        Id = Id<Survey>.Parse(string.Create(CultureInfo.InvariantCulture, $"{w}-{t}-{visit}")).Value,
                        Station = station,
                        Date = new LocalDate(2000 + t, 4 + visit, 15),
                        Calls = calls,
                    });
                }
            }
        }

        var data = new ProgrammeData([], [], stations, Species, [], surveys);
        var result = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Seed = world, Resamples = resamples })
            .Analyse(WatershedCode.Parse("99").Value, 1, CancellationToken.None);
        var tally = new Tally(new int[seasons], new int[seasons]);
        for (int k = 0; k < SpeciesCount; k++)
        {
            SmoothPoint[] points = [.. result.Smooth.Where(p => p.Species == Species[k].Id && p.Lower is not null)];
            if (points.Length != seasons)
                continue;
            double[] beneath = Relative(seasons, d => Beneath(course, d, seasons) + WetlandSlopeSd * WetlandSlopeSd * d * d / 2, _ => 0);
            double[] truth = Relative(seasons, d => Beneath(course, d, seasons) + WetlandSlopeSd * WetlandSlopeSd * d * d / 2, t => shocks[k][t]);
            var fall = result.Changes.Single(c => c.Species == Species[k].Id && c.Kind == SmoothChangeKind.FastestFall);
            double[] smoothed = Smoothed(truth, fall.Freedom);
            tally.Series++;
            for (int t = 0; t < seasons; t++)
            {
                tally.Held[t] += points[t].Lower <= truth[t] && truth[t] <= points[t].Upper ? 1 : 0;
                tally.HeldSmoothed[t] += points[t].Lower <= smoothed[t] && smoothed[t] <= points[t].Upper ? 1 : 0;
                tally.Beneath += points[t].Lower <= beneath[t] && beneath[t] <= points[t].Upper ? 1 : 0;
                tally.Width += points[t].Upper!.Value - points[t].Lower!.Value;
                tally.Bends += points[t].Bend == SmoothBend.None ? 0 : 1;
            }
            tally.Freedom += fall.Freedom;
            double middle = 2000 + (seasons - 1) / 2.0 + 0.25;
            tally.Falls++;
            tally.FallWidth += (fall.SeasonUpper ?? 0) - (fall.SeasonLower ?? 0);
            tally.FallHeld += fall.SeasonLower <= middle && middle <= fall.SeasonUpper ? 1 : 0;
        }
        return tally;
    }

    /// <summary>A course smoothed as stiffly as the fit was, its seasons weighted alike, relative to the first three again.</summary>
    private static double[] Smoothed(double[] course, double freedom)
    {
        double[] times = [.. Enumerable.Range(0, course.Length).Select(t => (double)t)];
        var panel = new PanelCounts(times, course, [.. course.Select(_ => 1.0)]);
        double low = -15, high = 25;
        for (int i = 0; i < 40; i++)
        {
            double middle = (low + high) / 2;
            if (SmoothSelection.At(panel, Math.Exp(middle)).EffectiveDegreesOfFreedom > freedom) low = middle;
            else high = middle;
        }
        double[] level = [.. SmoothSelection.At(panel, Math.Exp((low + high) / 2)).Effects.Select(Math.Exp)];
        return [.. level.Select(x => 100 * x / level.Take(3).Average())];
    }

    /// <summary>A course relative to the mean of its first three seasons, 100.</summary>
    private static double[] Relative(int seasons, Func<double, double> smooth, Func<int, double> shock)
    {
        double[] level = [.. Enumerable.Range(0, seasons).Select(t => Math.Exp(smooth(t - (seasons - 1) / 2.0) + shock(t)))];
        double baseline = level.Take(3).Average();
        return [.. level.Select(x => 100 * x / baseline)];
    }
}
