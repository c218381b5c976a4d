using Indicators.Monitoring;
using Indicators.Statistics.Resampling;
using NodaTime;

namespace Indicators.Analysis.Tests;

/// <summary>Makes small programmes for tests: every value follows from a key, nothing is real.</summary>
internal static class Programmes
{
    public static Id<Species> SpeciesId(string text) => Id<Species>.Parse(text).Value;

    public static Id<Station> StationId(string text) => Id<Station>.Parse(text).Value;

    public static WatershedCode Code(string text) => WatershedCode.Parse(text).Value;

    public static CallLevel Level(int level) => CallLevel.Of(level).Value;

    public static Species Frog(string id, string conservatism = "5", bool isProtected = false, CallingWindow? window = null) => new()
    {
        Id = SpeciesId(id),
        ScientificName = "Rana " + id,
        CommonName = id,
        Window = window ?? new CallingWindow(new AnnualDate(4, 1), new AnnualDate(7, 31)),
        Conservatism = Conservatism.Parse(conservatism).Value,
        Protected = isProtected,
    };

    public static Station Pond(string id, string wetland, string code) => new()
    {
        Id = StationId(id),
        Wetland = Id<Wetland>.Parse(wetland).Value,
        Watershed = Code(code),
        Place = GeoPoint.At(46, -91),
    };

    public static Survey Listen(string id, string station, LocalDate date, params (string Species, int Level)[] calls) => new()
    {
        Id = Id<Survey>.Parse(id).Value,
        Station = StationId(station),
        Date = date,
        Calls = [.. calls.Select(c => new Call(SpeciesId(c.Species), Level(c.Level))).OrderBy(c => c.Species)],
    };

    public static ProgrammeData Data(
        IEnumerable<Station> stations, IEnumerable<Species> species, IEnumerable<Survey> surveys, IEnumerable<ExpectedSpecies>? expected = null) =>
        new([], [], [.. stations], [.. species], [.. expected ?? []], [.. surveys]);

    /// <summary>
    /// Watersheds × wetlands, one station each, three visits a season with gaps; species k is heard with a chance that
    /// changes by its own rate, so that there is something to estimate.
    /// </summary>
    public static ProgrammeData Drawn(uint key, string[] codes, int wetlands, int seasons, params Species[] species)
    {
        uint counter = 0;
        double Uniform() => Philox.Block(counter++, 0, 0, 0, key, 1).W0 / 4294967296.0;
        var stations = new List<Station>();
        var surveys = new List<Survey>();
        foreach (string code in codes)
        {
            for (int w = 0; w < wetlands; w++)
            {
                string station = $"{code}-{w:00}";
                stations.Add(Pond(station, "w" + station, code));
                double[] loud = [.. species.Select(_ => Uniform())];
                for (int t = 0; t < seasons; t++)
                {
                    for (int visit = 0; visit < 3; visit++)
                    {
                        if (Uniform() < 0.2)
                            continue;
                        var calls = new List<(string, int)>();
                        for (int k = 0; k < species.Length; k++)
                            if (Uniform() < loud[k] * Math.Exp((k - 1) * 0.06 * t) * 0.6)
                                calls.Add((species[k].Id.ToString(), 1 + (int)(3 * Uniform())));
                        surveys.Add(Listen($"{station}-{t}-{visit}", station, new LocalDate(2010 + t, 4 + visit, 20), [.. calls]));
                    }
                }
            }
        }
        return Data(stations, species, surveys);
    }
}
