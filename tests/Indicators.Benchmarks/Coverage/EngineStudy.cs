using System.Diagnostics;
using System.Globalization;
using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Power;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using NodaTime;

namespace Indicators.Benchmarks.Coverage;

/// <summary>
/// How often the whole engine's intervals of indices, of groups' indices and mean slopes, of adjusted slopes and those of other responses, and of the
/// condition score hold what they are for, surveys in, results out.
/// </summary>
/// <remarks>
/// The truth of an index is the population's expected calling with the springs as they were, relative to its mean over the
/// baseline seasons; of the group index, the geometric mean of the species'; of the score, what its parts come to when every
/// expected species is present, the group index is the true one, and each species holds its own as likely as its true slope
/// beneath the springs makes it with the spread that the slope is known with (normal, from its published interval). A second truth has
/// every slope known without end, so that it counts 1 or 0. The truth of a slope is the population's of that response at the middle season's mean
/// temperature, with the springs as they were or without them; of a mean slope, the mean of those. The truth of a change of the score is the
/// difference of two such scores, each with the slopes known as well as they were then; a second one, of the calling part alone.
/// </remarks>
internal static class EngineStudy
{
    private const int SpeciesCount = 6, FirstSeason = 2000;

    /// <summary>Of the night's temperature in the middle season: its mean and standard deviation, °C.</summary>
    private const double MeanDegrees = 12, DegreesOfOne = 4;

    /// <summary>Species told together beside all of them: two whose calling has its middle before summer, three whose has it well in summer. All call at every visit.</summary>
    private static readonly (SpeciesGroup Group, int[] Species, AnnualDate CallingUntil, string Name)[] Groups =
    [
        (SpeciesGroup.EarlySeason, [0, 1], new AnnualDate(7, 31), "group of two"),
        (SpeciesGroup.Summer, [2, 3, 4], new AnnualDate(10, 31), "group of three"),
    ];

    private static readonly ProgrammeSettings Settings = new() { Group = new GroupOptions { SummerMiddleFrom = new AnnualDate(7, 1) } };

    public const string Heading = "cell,wetlands,seasons,shock_sd,serial,worlds,resamples,what,bias,bias_error," + Tally.Heading;

    private static readonly Species[] Species = [.. Enumerable.Range(0, SpeciesCount).Select(k => new Species
    {
        Id = Id<Species>.Parse($"s{k}").Value,
        ScientificName = $"Rana {k}",
        CommonName = $"frog {k}",
        Window = new CallingWindow(
            new AnnualDate(4, 1),
            Groups.Where(g => g.Species.Contains(k)).Select(g => g.CallingUntil).DefaultIfEmpty(new AnnualDate(8, 31)).Single()),
        Conservatism = Conservatism.Parse("5").Value,
    })];

    private static IEnumerable<(string Cell, WorldShape Shape)> Cells()
    {
        foreach (var (wetlands, seasons) in new[] { (5, 8), (8, 12), (12, 8), (12, 15), (20, 12), (20, 25), (60, 8) })
        {
            foreach (double shock in new[] { 0, 0.1, 0.3 })
            {
                yield return (
                    FormattableString.Invariant($"{wetlands}w {seasons}s {shock}"),
                    new WorldShape { Wetlands = wetlands, Seasons = seasons, ShockSd = shock, Species = SpeciesCount, SlopeStep = 0.025 });
            }
        }
        var mid = new WorldShape { Wetlands = 12, Seasons = 12, ShockSd = 0.1, Species = SpeciesCount, SlopeStep = 0.025 };
        yield return ("12w 12s 0.1 serial 0.5", mid with { Serial = 0.5 });
        yield return ("12w 12s 0.1 sparse", mid with { Level = 0.2 });
        yield return ("12w 12s 0.1 very sparse", mid with { Level = 0.08 });
        foreach (int wetlands in new[] { 20, 60 })
        {
            yield return (FormattableString.Invariant($"{wetlands}w 12s 0.1 sparse"), mid with { Wetlands = wetlands, Level = 0.2 });
            yield return (FormattableString.Invariant($"{wetlands}w 12s 0.1 very sparse"), mid with { Wetlands = wetlands, Level = 0.08 });
        }
        yield return ("12w 12s 0.1 uneven wetlands", mid with { LevelSd = 1.2, Level = 0.3 });
        yield return ("12w 12s 0.1 half missing", mid with { Missing = 0.5 });
        // As few species as have a score.
        foreach (var (wetlands, sparse, level) in new[] { (12, "", mid.Level), (12, " sparse", 0.2), (12, " very sparse", 0.08), (20, " very sparse", 0.08) })
            yield return (FormattableString.Invariant($"{wetlands}w 12s 0.1{sparse} three species"), mid with { Wetlands = wetlands, Level = level, Species = 3 });
        // What the night's temperature does, and surveys that become warmer, which the raw trend takes for a change.
        foreach (int wetlands in new[] { 12, 20 })
        {
            var warm = mid with { Wetlands = wetlands, TemperatureEffect = 0.3 };
            yield return (FormattableString.Invariant($"{wetlands}w 12s 0.1 temperature"), warm);
            yield return (FormattableString.Invariant($"{wetlands}w 12s 0.1 warming"), warm with { Warming = 0.1 });
        }
        // Species that all go one way: what the direction part misses does not cancel among them.
        foreach (var shape in new[] { new WorldShape { Seasons = 8, ShockSd = 0.1, Species = SpeciesCount, SlopeStep = 0.005 }, mid with { Wetlands = 20, SlopeStep = 0.005 } })
        {
            yield return (FormattableString.Invariant($"{shape.Wetlands}w {shape.Seasons}s 0.1 all holding"), shape with { Slope = 0 });
            yield return (FormattableString.Invariant($"{shape.Wetlands}w {shape.Seasons}s 0.1 all falling"), shape with { Slope = Math.Log(0.95) });
        }
    }

    /// <summary>Runs the cells that a file does not hold yet; only these, when some are named.</summary>
    /// <returns>Whether every name asked for is a cell's.</returns>
    public static bool Run(int worlds, int resamples, string path, string[] only, TextWriter log)
    {
        if (!StudyFile.Knows(only, Cells().Select(each => each.Cell), log))
            return false;
        var file = new StudyFile(path, Heading);
        foreach (var (cell, shape) in Cells())
        {
            if (!file.Wants(cell, only))
                continue;
            long start = Stopwatch.GetTimestamp();
            file.Add(cell, Cell(cell, shape, worlds, resamples));
            log.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{cell}: {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s"));
            log.Flush();
        }
        return true;
    }

    private static IEnumerable<string> Cell(string cell, WorldShape shape, int worlds, int resamples)
    {
        uint key = StudySeed.Key("engine " + cell);
        int[] every = [.. Enumerable.Range(0, shape.Species)];
        var groups = Groups.Where(g => g.Species[^1] < shape.Species && g.Species.Length < shape.Species).Prepend((SpeciesGroup.All, every, default, "group index")).ToArray();
        double[] beneath = [.. every.Select(k => World.TrueSlope(shape, k, null))];
        double direction = beneath.Average(b => b > Math.Log(1 - Settings.Trend.PracticalChangePercent / 100) ? 1.0 : 0);
        var tallies = new Dictionary<string, (Tally Held, Mean Bias)>();
        for (uint w = 0; w < worlds; w++)
        {
            var world = World.Draw(shape, StudySeed.World(key, w));
            var result = ProgrammeAnalysis.Prepare(Data(world, shape), Settings, new RunOptions { Seed = w, Resamples = resamples })
                .Analyse(WatershedCode.Parse("99").Value, 1, CancellationToken.None);
            double[][] indices = [.. world.Shocks.Select((shocks, k) => TrueIndex(World.Course(shape, k, shocks), Settings.Baseline.FirstSeasons))];
            double[] group = Together(indices);
            int last = shape.Seasons - 1;

            Add("index latest season", result.Indices.Where(p => p.Season == FirstSeason + last).Select(p => (p.Index, p.Lower, p.Upper, indices[Number(p.Species)][last])));
            Add("index after the baseline", result.Indices.Where(p => !p.InBaseline).Select(p => (p.Index, p.Lower, p.Upper, indices[Number(p.Species)][p.Season - FirstSeason])));
            Add("index in the baseline", result.Indices.Where(p => p.InBaseline).Select(p => (p.Index, p.Lower, p.Upper, indices[Number(p.Species)][p.Season - FirstSeason])));
            foreach (var (of, members, _, name) in groups)
            {
                var points = result.Group.Where(p => p.Group == of).ToList();
                double[] truth = Together([.. members.Select(k => indices[k])]);
                Add(name + " latest season", points.Where(p => p.Season == FirstSeason + last).Select(p => (p.Index, p.Lower, p.Upper, truth[last])));
                Add(name + " after the baseline", points.Skip(Settings.Baseline.FirstSeasons).Select(p => (p.Index, p.Lower, p.Upper, truth[p.Season - FirstSeason])));
            }

            foreach (var rows in result.Variants.Where(v => v.Window == TrendWindow.Whole).GroupBy(v => (v.Response, v.Model)))
            {
                string name = Name(rows.Key.Response, rows.Key.Model);
                double Truth(TrendVariant row, bool withSprings) =>
                    Percent(World.TrueSlope(shape, Number(row.Species), withSprings ? world.Shocks[Number(row.Species)] : null, rows.Key.Response));
                Add(name + " over these seasons", rows.Select(v => (v.PercentPerSeason, v.Lower, v.Upper, Truth(v, true))));
                Add(name + " beneath the springs", rows.Select(v => (v.PercentPerSeason, v.LowerUnderlying, v.UpperUnderlying, Truth(v, false))));
            }
            foreach (var (of, members, _, name) in groups)
            {
                Add($"mean slope of {(of == SpeciesGroup.All ? "all" : name)} beneath the springs", result.GroupTrends.Where(t => t.Group == of)
                    .Select(t => (t.PercentPerSeason, t.LowerUnderlying, t.UpperUnderlying, Percent(members.Average(k => beneath[k])))));
            }
            if (shape.TemperatureEffect != 0)
            {
                Add("effect of temperature", result.Effects.Where(e => e.Covariate == VisitCovariate.AirTemp)
                    .Select(e => (e.PercentPerUnit, e.PercentLower, e.PercentUpper, Percent(shape.TemperatureEffect / DegreesOfOne))));
            }

            double Calling(int to) => Math.Min(100, Math.Exp(Enumerable.Range(to - Settings.Score.WindowSeasons + 1, Settings.Score.WindowSeasons).Average(t => Math.Log(group[t]))));
            double Score(int to, double holding) =>
                100 * (Settings.Score.PresenceWeight + Settings.Score.SensitivityWeight + Settings.Score.DirectionWeight * holding)
                + Settings.Score.CallingWeight * Calling(to);
            var scored = result.Conditions.Where(c => c.Season == FirstSeason + last).ToList();
            double known = Known(Ranges(result.Trends, shape.Species), beneath, Settings.Trend);
            Add("condition score latest season", scored.Select(c => (c.Score, c.Lower, c.Upper, Score(last, known))));
            Add("condition score latest season (slopes known without end)", scored.Select(c => (c.Score, c.Lower, c.Upper, Score(last, direction))));
            foreach (var (since, name) in new[] { (ChangeSince.PreviousSeason, "the season before"), (ChangeSince.Baseline, "the first season") })
            {
                var changes = result.ScoreChanges.Where(c => c.Since == since).ToList();
                double Before(ScoreChange change) => Score(
                    change.FromSeason - FirstSeason, Known(Ranges(world, shape, change.FromSeason - FirstSeason + 1, w, key, Settings.Trend, resamples), beneath, Settings.Trend));
                Add("change of the score since " + name, changes.Select(c => ((double?)c.Points, c.Lower, c.Upper, Score(last, known) - Before(c))));
                Add($"change of the score since {name} (calling alone)", changes
                    .Select(c => ((double?)c.Points, c.Lower, c.Upper, Settings.Score.CallingWeight * (Calling(last) - Calling(c.FromSeason - FirstSeason)))));
            }
            Add("direction part by itself", result.Conditions.Where(c => c.Season == FirstSeason + last)
                .Select(c => (c.DirectionPart, (double?)null, (double?)null, 100 * direction)));
        }
        return [.. tallies.Select(p => string.Create(
            CultureInfo.InvariantCulture,
            $"{shape.Wetlands},{shape.Seasons},{shape.ShockSd},{shape.Serial},{worlds},{resamples},{p.Key},{p.Value.Bias.Value:0.###},{p.Value.Bias.Error:0.###},{p.Value.Held}"))];

        void Add(string what, IEnumerable<(double? Estimate, double? Lower, double? Upper, double Truth)> series)
        {
            if (!tallies.TryGetValue(what, out var tally))
                tallies[what] = tally = (new Tally(), new Mean());
            var told = series.ToList();
            // No upper end is an end all the same.
            tally.Held.AddWorld([.. told.Select(s => new Outcome(s.Lower, s.Lower is null ? null : s.Upper ?? double.PositiveInfinity, s.Truth, s.Truth, null))]);
            tally.Bias.AddWorld(told.Select(s => (s.Estimate ?? double.NaN) - s.Truth));
        }
    }

    /// <summary>The direction part over 100 were every slope the true one and known as well as it is.</summary>
    private static double Known((double Lower, double Upper)?[] ranges, double[] beneath, TrendOptions options)
    {
        double threshold = Math.Log(1 - options.PracticalChangePercent / 100), z = Quantile.OfNormal(1 - (1 - options.Confidence) / 2);
        return beneath.Select((slope, k) => ranges[k] is var (lower, upper) ? Quantile.NormalCdf((slope - threshold) * 2 * z / (upper - lower)) : 0.5).Average();
    }

    /// <summary>Each species' published range of the slope beneath the springs, as logarithms; null for none.</summary>
    private static (double Lower, double Upper)?[] Ranges(IReadOnlyList<Trend> trends, int species) =>
        [.. Enumerable.Range(0, species).Select(k => trends.FirstOrDefault(t => Number(t.Species) == k) is { LowerUnderlying: { } lower, UpperUnderlying: { } upper }
            ? (Math.Log(1 + lower / 100), Math.Log(1 + upper / 100))
            : ((double, double)?)null)];

    /// <summary>The same from the first seasons alone, which no edition tells.</summary>
    private static (double Lower, double Upper)?[] Ranges(World world, WorldShape shape, int seasons, uint number, uint key, TrendOptions options, int resamples)
    {
        var ranges = new (double, double)?[shape.Species];
        if (seasons < options.MinimumSeasons)
            return ranges;
        var panels = Enumerable.Range(0, shape.Species).Select(k => (Species: k, Panel: world.Panel(k, seasons))).Where(p => p.Panel is not null).ToList();
        var trends = PanelTrends.Of([.. panels.Select(p => p.Panel!)], number, key, options, resamples);
        for (int i = 0; i < trends.Length; i++)
            ranges[panels[i].Species] = trends[i].Underlying is { } ends && double.IsFinite(ends.Upper - ends.Lower) ? (ends.Lower, ends.Upper) : null;
        return ranges;
    }

    private static string Name(ResponseKind response, TrendModel model) => (response, model) switch
    {
        (ResponseKind.CallLevel, TrendModel.Raw) => "slope",
        (ResponseKind.CallLevel, _) => "adjusted slope",
        (ResponseKind.Heard, _) => "slope of heard",
        (ResponseKind.FullChorus, _) => "slope of full chorus",
        _ => throw new ArgumentOutOfRangeException(nameof(response), response, null),
    };

    private static double Percent(double log) => 100 * double.ExpM1(log);

    /// <summary>The geometric mean of species' indices, season by season.</summary>
    private static double[] Together(double[][] indices) =>
        [.. Enumerable.Range(0, indices[0].Length).Select(t => 100 * Math.Exp(indices.Average(i => Math.Log(i[t] / 100))))];

    private static int Number(Id<Species> id) => Array.FindIndex(Species, s => s.Id == id);

    private static double[] TrueIndex(double[] course, int baseline)
    {
        double mean = course.Take(baseline).Average();
        return [.. course.Select(c => 100 * c / mean)];
    }

    /// <summary>A world as the surveys a programme would take in.</summary>
    private static ProgrammeData Data(World world, WorldShape shape)
    {
        var stations = new List<Station>();
        var surveys = new List<Survey>();
        for (int w = 0; w < shape.Wetlands; w++)
        {
            var station = Id<Station>.Parse(string.Create(CultureInfo.InvariantCulture, $"w{w:00}")).Value;
            stations.Add(new Station
            {
                Id = station,
                Wetland = Id<Wetland>.Parse(station.ToString()).Value,
                Watershed = WatershedCode.Parse("99").Value,
                Place = GeoPoint.At(46, -91),
            });
            for (int t = 0; t < shape.Seasons; t++)
            {
                int[][] visits = world.Levels[w * shape.Seasons + t];
                double[] nights = world.Temperatures[w * shape.Seasons + t];
                for (int visit = 0; visit < visits.Length; visit++)
                {
                    surveys.Add(new Survey
                    {
                        Id = Id<Survey>.Parse(string.Create(CultureInfo.InvariantCulture, $"{w}-{t}-{visit}")).Value,
                        Station = station,
                        Date = new LocalDate(FirstSeason + t, 4 + visit, 15),
                        AirTempC = shape.TemperatureEffect == 0 ? null : MeanDegrees + DegreesOfOne * nights[visit],
                        Calls = [.. visits[visit].Select((level, k) => (level, k)).Where(c => c.level > 0).Select(c => new Call(Species[c.k].Id, CallLevel.Of(c.level).Value))],
                    });
                }
            }
        }
        return new ProgrammeData([], [], stations, Species[..shape.Species], [], surveys);
    }
}
