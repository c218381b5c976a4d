using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Application.Editions;

/// <summary>
/// A made-up programme of a few wetlands, analysed for nobody to see: so the runtime compiles the engine, and what writes and says its results, on a
/// processor that would stand idle while surveys are read. No result depends on it.
/// </summary>
public static class Rehearsal
{
    private const int Watersheds = 4, Wetlands = 9, Seasons = 10, Visits = 3, FirstSeason = 2001, Resamples = 64;

    private static readonly Species[] Species = [.. Enumerable.Range(0, 4).Select(k => new Species
    {
        Id = Id<Species>.Parse($"s{k}").Value,
        ScientificName = $"Rana {k}",
        CommonName = $"frog {k}",
        Window = new CallingWindow(new AnnualDate(3, 1 + k), k < 2 ? new AnnualDate(5, 31) : new AnnualDate(8, 31)),
        Conservatism = Conservatism.Parse(k == 0 ? "8" : "4").Value,
    })];

    /// <summary>Analyses it on one thread, by the use case itself.</summary>
    /// <param name="database">An empty database, which takes the draft.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>.</param>
    /// <returns>What came of it.</returns>
    public static AnalyseOutcome Run(Database database, CancellationToken cancel)
    {
        var analyse = new AnalyseProgramme(new Invented(Programme()), new EditionStore(database), EngineAnalysis.Prepare, SystemClock.Instance);
        return analyse.Run(new AnalyseRequest { Run = new RunOptions { Resamples = Resamples }, MaxThreads = 1 }, progress: null, cancel);
    }

    private static ProgrammeData Programme()
    {
        WatershedCode[] codes = [.. Enumerable.Range(1, Watersheds).Select(i => WatershedCode.Parse($"9901010{i}").Value)];
        Station[] stations = [.. Enumerable.Range(0, Wetlands * codes.Length).Select(i => new Station
        {
            Id = Id<Station>.Parse($"p{i}").Value,
            Wetland = Id<Wetland>.Parse($"w{i}").Value,
            Watershed = codes[i / Wetlands],
            Place = GeoPoint.At(45, -90 + i * 0.01),
        })];
        return new ProgrammeData(
            [.. codes.Select(code => new Watershed(code, "Invented"))],
            [.. stations.Select(station => new Wetland(station.Wetland, null, null))],
            stations,
            Species,
            [],
            [.. from i in Enumerable.Range(0, stations.Length) from t in Enumerable.Range(0, Seasons) from v in Enumerable.Range(0, Visits) select Visit(stations[i], i, t, v)]);
    }

    private static Survey Visit(Station station, int number, int season, int visit)
    {
        int Mixed(int k) => (number * 31 + season * 17 + visit * 7 + k * 13 + number * season * 5 + number * visit * 3) % 11 % 8;
        return new Survey
        {
            Id = Id<Survey>.Parse($"v{number}-{season}-{visit}").Value,
            Station = station.Id,
            Date = new LocalDate(FirstSeason + season, 4 + visit, 10),
            StartTime = new LocalTime(21, 30),
            Minutes = 5,
            Observer = $"o{number % 3}",
            AirTempC = 8 + Mixed(9),
            WindBeaufort = Mixed(10) % 4,
            Calls = [.. Enumerable.Range(0, Species.Length).Where(k => Mixed(k) < 4 && (number + k) % 5 != 0).Select(k => new Call(Species[k].Id, CallLevel.Of(Math.Max(1, Mixed(k))).Value))],
        };
    }

    /// <summary>A store that holds one programme and takes nothing.</summary>
    private sealed class Invented(ProgrammeData data) : ISurveyStore
    {
        public StoredReference Reference() => new(data.Watersheds, [], data.Wetlands, data.Stations, data.Species, data.Expected);

        public ProgrammeSettings? Settings() => null;

        public ProgrammeData Accepted() => data;

        public ProgrammeData AcceptedAt(Instant at) => data;

        public IReadOnlyDictionary<Id<Survey>, Survey> Find(IReadOnlyCollection<Id<Survey>> ids) => throw new NotSupportedException();

        public void Import(ImportBatch batch, Origin origin, IProgress<int>? progress, CancellationToken cancel) => throw new NotSupportedException();
    }
}
