using System.Globalization;
using System.Text;
using Indicators.SeedDemo;
using Indicators.Statistics.Panels;

namespace Indicators.Benchmarks;

/// <summary>
/// A programme as large as a state's, drawn from a seed: 60 watersheds of 25 stations in 20 wetlands, 20 seasons of which each
/// station keeps three in four, 3 visits a season, 15 species. About 67,500 surveys and 133,000 calls. Only its size is meant
/// to be like life; the demo is the one to look at.
/// </summary>
public sealed class StateProgramme
{
    public const int Watersheds = 60;
    public const int Stations = 25;
    public const int Wetlands = 20;
    public const int Seasons = 20;
    public const int FirstSeason = 2006;
    public const int Visits = 3;
    public const int Species = 15;
    private const double SeasonKept = 0.75;
    private readonly ulong _seed;
    private readonly bool _nation;

    /// <summary>The programme of a state, or with <paramref name="nation"/> the folder of a nation's: see <see cref="Write"/>.</summary>
    public StateProgramme(ulong seed, bool nation = false) => (_seed, _nation) = (seed, nation);

    /// <summary>Eight digits: five watersheds in each of four basins in each of three subregions of one region.</summary>
    public static string CodeOf(int watershed) =>
        FormattableString.Invariant($"99{watershed / 20 + 1:00}{watershed / 5 % 4 + 1:00}{watershed % 5 + 1:00}");

    /// <summary>Five wetlands have a second station.</summary>
    public static int WetlandOf(int station) => station % Wetlands;

    public bool Kept(int watershed, int station, int season) =>
        DemoRandom.For(_seed, Draw.Visit, watershed, station, season).Chance(SeasonKept);

    /// <summary>The call level of each species on one visit, 0 to 3.</summary>
    public void Listen(int watershed, int station, int season, int visit, Span<int> levels)
    {
        // A nation's further species call as the state's do.
        var random = DemoRandom.For(_seed, Draw.Call, watershed, station, season, visit);
        for (int k = 0; k < levels.Length; k++)
        {
            double eta = -2.93 + 0.35 * (k % 5)
                + (k % Species - 7) * 0.01 * (season - Seasons / 2.0)
                + 0.9 * DemoRandom.For(_seed, Draw.Wetland, watershed, WetlandOf(station), k).Normal();
            levels[k] = CallModel.LevelOf(eta, random.Uniform());
        }
    }

    /// <summary>One watershed's counts of one species, stations over seasons, wetlands as clusters.</summary>
    public PanelCounts Panel(int watershed, int species)
    {
        var rows = new List<(double[] Counts, double[] Exposures, int Wetland)>();
        Span<int> levels = stackalloc int[Species];
        for (int station = 0; station < Stations; station++)
        {
            double[] counts = new double[Seasons], exposures = new double[Seasons];
            for (int season = 0; season < Seasons; season++)
            {
                if (!Kept(watershed, station, season))
                    continue;
                exposures[season] = Visits;
                for (int visit = 0; visit < Visits; visit++)
                {
                    Listen(watershed, station, season, visit, levels);
                    counts[season] += levels[species];
                }
            }

            if (counts.Sum() > 0)
                rows.Add((counts, exposures, WetlandOf(station)));
        }

        return new PanelCounts(
            [.. Enumerable.Range(0, Seasons).Select(t => (double)t)],
            [.. rows.SelectMany(row => row.Counts)],
            [.. rows.SelectMany(row => row.Exposures)],
            default,
            [.. rows.Select(row => row.Wetland)],
            Wetlands);
    }

    /// <summary>
    /// Writes the import folder and says how many surveys and calls it holds. A nation's: 2,000 watersheds of 10 stations in 8
    /// wetlands, twenty in each of ten basins in each of ten subregions, 30 seasons, 25 species; about 1.35 million surveys.
    /// </summary>
    public (int Surveys, int Calls) Write(string folder)
    {
        var (watershedCount, stationCount, wetlandCount, seasonCount, speciesCount, firstSeason, codeOf) = _nation
            ? (2000, 10, 8, 30, 25, FirstSeason - 10, w => FormattableString.Invariant($"99{w / 200 + 1:00}{w / 20 % 10 + 1:00}{w % 20 + 1:00}"))
            : (Watersheds, Stations, Wetlands, Seasons, Species, FirstSeason, (Func<int, string>)CodeOf);
        Directory.CreateDirectory(folder);
        using (var watersheds = File("watersheds.csv", "watershed_code,name"))
        {
            for (int w = 0; w < watershedCount; w++)
                watersheds.WriteLine($"{codeOf(w)},Invented watershed {w + 1}");
        }

        using (var species = File("species.csv", "species_id,scientific_name,common_name,window_start,window_end,sensitivity"))
        {
            for (int k = 0; k < speciesCount; k++)
                species.WriteLine($"S{k + 1:00},Rana inventa {k + 1},Invented frog {k + 1},03-15,08-15,{k % 11}");
        }

        int surveys = 0, calls = 0;
        using var stationFile = File("stations.csv", "station_id,wetland_id,watershed_code,latitude,longitude");
        using var surveyFile = File("surveys.csv", "survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort");
        using var callFile = File("calls.csv", "survey_id,species_id,call_index");
        Span<int> levels = stackalloc int[speciesCount];
        for (int w = 0; w < watershedCount; w++)
        {
            for (int s = 0; s < stationCount; s++)
            {
                double latitude = 43 + w / 10 * 0.2 + s * 0.005, longitude = -87.4 + w % 10 * 0.05;
                stationFile.WriteLine($"W{w + 1:00}-{s + 1:00},W{w + 1:00}-P{s % wetlandCount + 1:00},{codeOf(w)},{latitude:0.0000},{longitude:0.0000}");
                for (int t = 0; t < seasonCount; t++)
                {
                    if (!Kept(w, s, t))
                        continue;
                    for (int visit = 0; visit < Visits; visit++)
                    {
                        string id = $"{firstSeason + t}-W{w + 1:00}-{s + 1:00}-{visit + 1}";
                        surveyFile.WriteLine($"{id},W{w + 1:00}-{s + 1:00},{firstSeason + t}-{4 + visit:00}-{10 + (s + t) % 18:00},22:{10 + s % 50:00},5,Listener {(w * 7 + s) % 90 + 1},{8 + 5 * visit},{(s + t + visit) % 4}");
                        surveys++;
                        Listen(w, s, t, visit, levels);
                        for (int k = 0; k < speciesCount; k++)
                        {
                            if (levels[k] == 0)
                                continue;
                            callFile.WriteLine($"{id},S{k + 1:00},{levels[k]}");
                            calls++;
                        }
                    }
                }
            }
        }

        return (surveys, calls);

        StreamWriter File(string name, string heading)
        {
            var writer = new InvariantWriter(Path.Combine(folder, name));
            writer.WriteLine(heading);
            return writer;
        }
    }

    private sealed class InvariantWriter(string path) : StreamWriter(path, append: false, new UTF8Encoding(false))
    {
        public override IFormatProvider FormatProvider => CultureInfo.InvariantCulture;

        public override string NewLine => "\n";
    }
}
