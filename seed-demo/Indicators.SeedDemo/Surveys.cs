using NodaTime;

namespace Indicators.SeedDemo;

/// <summary>One listen of the demo.</summary>
public sealed record DemoSurvey
{
    public required string Id { get; init; }
    public required DemoStation Station { get; init; }
    public required int Season { get; init; }
    public required int Run { get; init; }
    public required LocalDate Date { get; init; }
    public required LocalTime? Start { get; init; }
    public required int Minutes { get; init; }
    public required string? Observer { get; init; }
    public required double? AirTempC { get; init; }
    public required int Wind { get; init; }
    public required string? SkyCode { get; init; }
    public required string? Noise { get; init; }
    public required string? Notes { get; init; }

    /// <summary>Call levels above 0 by species, in the order of <see cref="DemoSpecies.All"/>.</summary>
    public required IReadOnlyList<(DemoSpecies Species, int Level)> Calls { get; init; }
}

/// <summary>Every visit that was made, with what was heard.</summary>
public sealed class Surveys
{
    private const double SeasonSkipped = 0.05;
    private const double NightSkipped = 0.07;

    /// <summary>The spring whose early round was half lost to high water.</summary>
    private const int FloodedSpring = 2020;

    private readonly ulong _seed;

    public Surveys(Programme programme)
    {
        _seed = programme.Seed;
        SeasonEffects = [.. DemoSpecies.All.Select((_, k) => SeasonEffectsOf(k))];
        foreach (var station in programme.Stations)
        {
            var levels = DemoSpecies.All.Select((species, k) => LevelAt(station, species, k)).ToArray();
            for (int season = station.FirstSeason; season <= station.LastSeason; season++)
            {
                for (int run = 0; run < DemoRun.All.Count; run++)
                {
                    if (Made(station, season, run))
                        _all.Add(Visit(station, season, run, levels));
                }
            }
        }
    }

    private readonly List<DemoSurvey> _all = [];

    /// <summary>All surveys by station, season, run.</summary>
    public IReadOnlyList<DemoSurvey> All => _all;

    /// <summary>By species, what each season did to all wetlands at once, logit scale.</summary>
    public IReadOnlyList<IReadOnlyList<double>> SeasonEffects { get; }

    private double[] SeasonEffectsOf(int species) =>
        [.. Enumerable.Range(0, District.Seasons).Select(t => DemoSpecies.SeasonSd * DemoRandom.For(_seed, Draw.Season, species, t).Normal())];

    /// <summary>A wetland's and station's own level and slope for a species; null where the wetland cannot hold it.</summary>
    private (double Level, double Slope)? LevelAt(DemoStation station, DemoSpecies species, int k)
    {
        var wetland = DemoRandom.For(_seed, Draw.Wetland, k, station.Wetland.Number);
        if (!wetland.Chance(species.Occupancy))
            return null;
        double level = species.WetlandSd * wetland.Normal();
        double slope = species.WetlandSlopeSd * wetland.Normal();
        double own = DemoSpecies.StationSd * DemoRandom.For(_seed, Draw.Station, k, station.Number).Normal();
        return (level + own, slope);
    }

    private bool Made(DemoStation station, int season, int run)
    {
        if (DemoRandom.For(_seed, Draw.Visit, station.Number, season).Chance(SeasonSkipped))
            return false;
        double skipped = season == FloodedSpring && run == 0 ? 0.5 : NightSkipped;
        return !DemoRandom.For(_seed, Draw.Visit, station.Number, season, run + 1).Chance(skipped);
    }

    private DemoSurvey Visit(DemoStation station, int season, int run, (double Level, double Slope)?[] levels)
    {
        var evening = DemoRandom.For(_seed, Draw.Evening, station.Number, season, run);
        var round = DemoRun.All[run];
        var first = round.First.InYear(season);
        int days = Period.DaysBetween(first, round.Last.InYear(season));
        var date = first.PlusDays(evening.Whole(0, days));
        int wind = WindOf(evening.Uniform());
        var start = new LocalTime(21, 15).PlusMinutes(evening.Whole(0, 180));
        double temperature = Math.Round(Math.Max(2, round.MeanTempC + 3 * evening.Normal()), 1);
        bool windy = wind > 3;
        return new DemoSurvey
        {
            Id = FormattableString.Invariant($"{season}-{station.Id}-{run + 1}"),
            Station = station,
            Season = season,
            Run = run,
            Date = date,
            Start = evening.Chance(0.97) ? start : null,
            Minutes = evening.Chance(0.01) ? 4 : 5,
            Observer = evening.Chance(0.98) ? People.Listening(_seed, station, season) : null,
            AirTempC = evening.Chance(0.96) ? temperature : null,
            Wind = wind,
            SkyCode = evening.Chance(0.97) ? SkyOf(evening.Uniform()) : null,
            Noise = evening.Chance(0.15) ? "some" : "none",
            Notes = windy && evening.Chance(0.5) ? "Windy, hard to hear the far side"
                : run == 0 && season == FloodedSpring ? "High water on the track" : null,
            Calls = Heard(station, season, run, wind, levels),
        };
    }

    private List<(DemoSpecies, int)> Heard(DemoStation station, int season, int run, int wind, (double Level, double Slope)?[] levels)
    {
        var heard = new List<(DemoSpecies, int)>();
        for (int k = 0; k < levels.Length; k++)
        {
            var species = DemoSpecies.All[k];
            if (levels[k] is not { } own || !species.Runs.Contains(run))
                continue;
            double eta = CallModel.Fixed(species, station.Wetland.Watershed.LocalSlope, season, run)
                + own.Level + own.Slope * (season - CallModel.MiddleSeason)
                + SeasonEffects[k][season - District.FirstSeason]
                + CallModel.WindEffect(wind);
            int level = CallModel.LevelOf(eta, DemoRandom.For(_seed, Draw.Call, k, station.Number, season, run).Uniform());
            if (level > 0)
                heard.Add((species, level));
        }

        return heard;
    }

    private static int WindOf(double uniform)
    {
        int wind = 0;
        for (double sum = CallModel.WindShares[0]; uniform >= sum && wind < CallModel.WindShares.Count - 1; sum += CallModel.WindShares[wind])
            wind++;
        return wind;
    }

    private static string SkyOf(double uniform) => uniform < 0.4 ? "0" : uniform < 0.7 ? "1" : uniform < 0.92 ? "2" : uniform < 0.97 ? "4" : "5";
}

/// <summary>Who looks after a station: people stay some seasons and hand over.</summary>
public static class People
{
    /// <summary>The station's listener of a season.</summary>
    public static string Listening(ulong seed, DemoStation station, int season)
    {
        var random = DemoRandom.For(seed, Draw.Observer, station.Number);
        int from = District.FirstSeason - random.Whole(0, 4);
        while (true)
        {
            int until = from + random.Whole(2, 9);
            string name = District.Observers[random.Whole(0, District.Observers.Count - 1)];
            if (season < until)
                return name;
            from = until;
        }
    }
}
