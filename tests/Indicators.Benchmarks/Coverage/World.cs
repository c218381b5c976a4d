using Indicators.Analysis.Options;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;

namespace Indicators.Benchmarks.Coverage;

/// <summary>One world: surveys' call levels, and what its intervals should hold.</summary>
internal sealed class World
{
    private static readonly double[] LevelNodes = NormalNodes.Of(21), SlopeNodes = NormalNodes.Of(11);
    private readonly WorldShape _shape;

    private World(WorldShape shape, double[][] shocks, int[][][] levels, double[][] temperatures) =>
        (_shape, Shocks, Levels, Temperatures) = (shape, shocks, levels, temperatures);

    /// <summary>[species][season].</summary>
    public double[][] Shocks { get; }

    /// <summary>[wetland × seasons + season][visit made][species], the call level.</summary>
    public int[][][] Levels { get; }

    /// <summary>[wetland × seasons + season][visit made], in standard deviations from the middle season's mean; 0 where temperature does nothing.</summary>
    public double[][] Temperatures { get; }

    /// <summary>Draws a world.</summary>
    public static World Draw(WorldShape shape, UniformStream random)
    {
        var shocks = DrawShocks(shape, random);
        var levels = new int[shape.Wetlands * shape.Seasons][][];
        var temperatures = new double[levels.Length][];
        double[] level = new double[shape.Species], slope = new double[shape.Species], log = new double[shape.Species];
        for (int w = 0; w < shape.Wetlands; w++)
        {
            for (int k = 0; k < shape.Species; k++)
                (level[k], slope[k]) = (Math.Log(shape.Level) + shape.LevelSd * random.Normal(), shape.SlopeOf(k) + shape.SlopeSd * random.Normal());
            for (int t = 0; t < shape.Seasons; t++)
            {
                for (int k = 0; k < shape.Species; k++)
                {
                    log[k] = level[k] + slope[k] * (t - shape.Middle) + shocks[k][t];
                    if (shape.CellSd > 0)
                        log[k] += shape.CellSd * random.Normal() - shape.CellSd * shape.CellSd / 2;
                }
                var visits = new List<int[]>();
                var nights = new List<double>();
                for (int visit = 0; visit < shape.Visits; visit++)
                {
                    bool made = random.Next() >= shape.Missing && (!shape.IsLate(w) || t >= shape.LateStart);
                    if (!made)
                        continue;
                    double night = shape.TemperatureEffect == 0 ? 0 : shape.Warming * (t - shape.Middle) + random.Normal();
                    nights.Add(night);
                    visits.Add([.. log.Select(x => CallLevel(shape, x + shape.TemperatureEffect * night, random))]);
                }
                levels[w * shape.Seasons + t] = [.. visits];
                temperatures[w * shape.Seasons + t] = [.. nights];
            }
        }
        return new World(shape, shocks, levels, temperatures);
    }

    private static int CallLevel(WorldShape shape, double log, UniformStream random)
    {
        if (shape.Scale == CallScale.Ceiling)
            return Poisson(Math.Exp(log), 3, random);
        double chance = Math.Exp(log) / 3;
        return (random.Next() < chance ? 1 : 0) + (random.Next() < chance ? 1 : 0) + (random.Next() < chance ? 1 : 0);
    }

    /// <summary>By adding up exponential waits, no further than is of interest.</summary>
    private static int Poisson(double mean, int enough, UniformStream random)
    {
        double sum = 0;
        for (int count = 0; ; count++)
        {
            sum -= Math.Log(1 - random.Next());
            if (sum > mean || count == enough)
                return count;
        }
    }

    private static double[][] DrawShocks(WorldShape shape, UniformStream random)
    {
        var shocks = new double[shape.Species][];
        for (int k = 0; k < shape.Species; k++)
            shocks[k] = new double[shape.Seasons];
        for (int t = 0; t < shape.Seasons; t++)
        {
            double common = random.Normal();
            for (int k = 0; k < shape.Species; k++)
            {
                double fresh = Math.Sqrt(shape.SpeciesShare) * common + Math.Sqrt(1 - shape.SpeciesShare) * random.Normal();
                shocks[k][t] = t == 0
                    ? shape.ShockSd * fresh
                    : shape.Serial * shocks[k][t - 1] + Math.Sqrt(1 - shape.Serial * shape.Serial) * shape.ShockSd * fresh;
            }
        }
        return shocks;
    }

    /// <summary>One species' counts as the engine would make them of these surveys: stations that never heard it are left out; null when none did.</summary>
    public PanelCounts? Panel(int species) => Panel(species, _shape.Seasons);

    /// <summary>The same of the first seasons alone.</summary>
    public PanelCounts? Panel(int species, int first)
    {
        int seasons = _shape.Seasons;
        var wetlands = Enumerable.Range(0, _shape.Wetlands)
            .Where(w => Enumerable.Range(0, first).Any(t => Levels[w * seasons + t].Any(v => v[species] > 0))).ToArray();
        if (wetlands.Length == 0)
            return null;
        return new PanelCounts(
            [.. Enumerable.Range(0, first).Select(t => (double)t)],
            [.. wetlands.SelectMany(w => Enumerable.Range(0, first).Select(t => (double)Levels[w * seasons + t].Sum(v => v[species])))],
            [.. wetlands.SelectMany(w => Enumerable.Range(0, first).Select(t => (double)Levels[w * seasons + t].Length))],
            default,
            wetlands,
            _shape.Wetlands);
    }

    /// <summary>
    /// The population's slope over just these seasons: that of the expected calling of endlessly many such wetlands, with the
    /// springs as they were, or without them.
    /// </summary>
    public static double TrueSlope(WorldShape shape, int species, double[]? shocks, ResponseKind response = ResponseKind.CallLevel)
    {
        var course = Course(shape, species, shocks, response);
        bool mixed = shape.Late > 0;
        int seasons = shape.Seasons, late = (int)Math.Round(shape.Late * shape.Wetlands), early = shape.Wetlands - late;
        double[] counts = [.. course.Select(c => c * early)], exposures = [.. course.Select(_ => 1.0)];
        if (mixed)
        {
            counts = [.. counts, .. course.Select((c, t) => t < shape.LateStart ? 0 : c * late)];
            exposures = [.. exposures, .. course.Select((_, t) => t < shape.LateStart ? 0.0 : 1.0)];
        }
        return TrendFit.Of(new PanelCounts([.. Enumerable.Range(0, seasons).Select(t => (double)t)], counts, exposures)).Value;
    }

    /// <summary>Expected calling a survey, averaged over wetlands, season by season, at the middle season's mean temperature.</summary>
    public static double[] Course(WorldShape shape, int species, double[]? shocks, ResponseKind response = ResponseKind.CallLevel)
    {
        // Noise of cells only widens the spread of levels, as far as the mean goes.
        double spread = Math.Sqrt(shape.LevelSd * shape.LevelSd + shape.CellSd * shape.CellSd);
        double centre = Math.Log(shape.Level) - shape.CellSd * shape.CellSd / 2;
        var course = new double[shape.Seasons];
        for (int t = 0; t < course.Length; t++)
        {
            foreach (double level in LevelNodes)
            {
                foreach (double lean in SlopeNodes)
                {
                    double log = centre + spread * level + (shape.SlopeOf(species) + shape.SlopeSd * lean) * (t - shape.Middle);
                    course[t] += shape.Expected(log + (shocks?[t] ?? 0), response) / (LevelNodes.Length * SlopeNodes.Length);
                }
            }
        }
        return course;
    }
}
