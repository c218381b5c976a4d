using System.Globalization;
using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using NodaTime;

namespace Indicators.Benchmarks;

/// <summary>
/// How often the default intervals hold the slopes they are for, over worlds in which the slopes are known: wetlands with
/// levels and slopes of their own, and good and bad springs that all wetlands share.
/// </summary>
/// <remarks>
/// A survey's call level is the sum of three coin throws whose chance is log-linear in season, so that the expected level is
/// log-linear exactly and the ceiling at 3 is not in play. Three surveys a season, a fifth of them missing.
/// </remarks>
internal static class IntervalCoverage
{
    private const double Slope = -0.02, WetlandLevelSd = 0.5, WetlandSlopeSd = 0.03, MeanChance = 0.2, Missing = 0.2;
    private const int SpeciesCount = 4;
    private static readonly Species[] Species = [.. Enumerable.Range(0, SpeciesCount).Select(k => new Species
    {
        Id = Id<Species>.Parse($"s{k}").Value,
        ScientificName = $"Rana {k}",
        CommonName = $"frog {k}",
        Window = new CallingWindow(new AnnualDate(4, 1), new AnnualDate(7, 31)),
        Conservatism = Conservatism.Parse("5").Value,
    })];

    /// <summary>Runs the grid and writes one line a cell.</summary>
    internal static void Run(int worlds, int resamples, TextWriter output)
    {
        output.WriteLine("| wetlands | seasons | shock sd | series | observed, for these seasons | observed, for beneath | underlying, for beneath | observed width | underlying width | season sd | wrong words |");
        output.WriteLine("|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|");
        foreach (int wetlands in new[] { 6, 12, 25, 50 })
        {
            foreach (int seasons in new[] { 8, 15, 25 })
            {
                foreach (double shock in new[] { 0, 0.1, 0.3 })
                    output.WriteLine(Cell(wetlands, seasons, shock, worlds, resamples));
            }
        }
    }

    private static string Cell(int wetlands, int seasons, double shockSd, int worlds, int resamples)
    {
        var all = new Tally[worlds];
        Parallel.For(0, worlds, world => all[world] = World(wetlands, seasons, shockSd, (uint)world, resamples));
        Tally sum = new();
        foreach (var tally in all)
            sum = sum.Plus(tally);
        double n = sum.Series;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {wetlands} | {seasons} | {shockSd} | {sum.Series} | {sum.Observed / n:0.000} | {sum.ObservedBeneath / n:0.000} | {sum.Underlying / n:0.000} | {sum.ObservedWidth / n:0.00} | {sum.UnderlyingWidth / n:0.00} | {sum.SeasonSd / n:0.000} | {sum.WrongWords / n:0.000} |");
    }

    private readonly record struct Tally(
        int Series, double Observed, double ObservedBeneath, double Underlying, double ObservedWidth, double UnderlyingWidth, double SeasonSd, double WrongWords)
    {
        public Tally Plus(Tally other) => new(
            Series + other.Series,
            Observed + other.Observed,
            ObservedBeneath + other.ObservedBeneath,
            Underlying + other.Underlying,
            ObservedWidth + other.ObservedWidth,
            UnderlyingWidth + other.UnderlyingWidth,
            SeasonSd + other.SeasonSd,
            WrongWords + other.WrongWords);
    }

    private static Tally World(int wetlands, int seasons, double shockSd, uint world, int resamples)
    {
        var uniform = new Stream((uint)(wetlands * 1000 + seasons), world, (uint)(shockSd * 1000));
        double[][] shocks = [.. Species.Select(_ => Enumerable.Range(0, seasons).Select(_ => shockSd * uniform.Normal()).ToArray())];
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
            double[] level = [.. Species.Select(_ => Math.Log(MeanChance) + WetlandLevelSd * uniform.Normal())];
            double[] slope = [.. Species.Select(_ => Slope + WetlandSlopeSd * uniform.Normal())];
            for (int t = 0; t < seasons; t++)
            {
                for (int visit = 0; visit < 3; visit++)
                {
                    if (uniform.Next() < Missing)
                        continue;
                    var calls = new List<Call>();
                    for (int k = 0; k < SpeciesCount; k++)
                    {
                        double chance = Math.Min(1, Math.Exp(level[k] + slope[k] * (t - (seasons - 1) / 2.0) + shocks[k][t]));
                        int heard = Enumerable.Range(0, 3).Count(_ => uniform.Next() < chance);
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
        var run = new RunOptions { Seed = world, Resamples = resamples };
        var result = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), run).Analyse(WatershedCode.Parse("99").Value, 1, CancellationToken.None);
        Tally sum = new();
        double beneath = 100 * double.ExpM1(Slope);
        for (int k = 0; k < SpeciesCount; k++)
        {
            var trend = result.Trends[k];
            if (trend is not { Lower: { } low, Upper: { } high, LowerUnderlying: { } lowBeneath, UpperUnderlying: { } highBeneath })
                continue;
            // The population's own course over just these seasons, shocks included; the wetlands' slopes bend it evenly.
            double[] course = [.. Enumerable.Range(0, seasons).Select(t =>
            {
                double d = t - (seasons - 1) / 2.0;
                return Math.Exp(Slope * d + WetlandSlopeSd * WetlandSlopeSd * d * d / 2 + shocks[k][t]);
            })];
            var population = new PanelCounts([.. Enumerable.Range(0, seasons).Select(t => (double)t)], course, [.. course.Select(_ => 1.0)]);
            double seen = 100 * double.ExpM1(TrendFit.Of(population).Value);
            bool wrong = trend.Direction == Analysis.Results.Direction.Up;
            sum = sum.Plus(new Tally(
                1,
                low <= seen && seen <= high ? 1 : 0,
                low <= beneath && beneath <= high ? 1 : 0,
                lowBeneath <= beneath && beneath <= highBeneath ? 1 : 0,
                high - low,
                highBeneath - lowBeneath,
                trend.SeasonSd ?? 0,
                wrong ? 1 : 0));
        }
        return sum;
    }

    /// <summary>Uniform and normal numbers of one world.</summary>
    private sealed class Stream(uint cell, uint world, uint shock)
    {
        private uint _counter;

        public double Next() => Philox.Block(_counter++, world, cell, shock, 20261125, 0).W0 / 4294967296.0;

        public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());
    }
}
