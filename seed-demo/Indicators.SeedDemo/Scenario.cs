using Indicators.Monitoring;

namespace Indicators.SeedDemo;

/// <summary>The whole demo drawn from one seed: where people listen, when they went and what they heard.</summary>
public sealed class Scenario
{
    /// <summary>The seed of the committed demo: the first whole number, not chosen to please.</summary>
    public const ulong CommittedSeed = 1;

    public Scenario(ulong seed)
    {
        Programme = new Programme(seed);
        Surveys = new Surveys(Programme);
    }

    public Programme Programme { get; }
    public Surveys Surveys { get; }

    /// <summary>The programme expects every species all over the district, but for the listed one, which few places ever had.</summary>
    public static IReadOnlyList<(string Watershed, DemoSpecies Species)> Expected { get; } =
    [
        .. DemoSpecies.All.Where(species => !species.Protected).Select(species => (District.Code, species)),
    ];

    /// <summary>The same as an analysis reads it, without files.</summary>
    public ProgrammeData Data() => new(
        [.. District.Larger.Concat(District.Smallest.Select(place => (place.Code, place.Name))).Select(w => new Watershed(Code(w.Code), w.Name))],
        [.. Programme.Wetlands.Select(wetland => new Wetland(Id<Wetland>(wetland.Id), wetland.Name, wetland.Class))],
        [.. Programme.Stations.Select(StationOf)],
        [.. DemoSpecies.All.Select(SpeciesOf)],
        [.. Expected.Select(row => new ExpectedSpecies(Code(row.Watershed), Id<Species>(row.Species.Id), null))],
        [.. Surveys.All.Select(SurveyOf)]);

    private static Station StationOf(DemoStation station) => new()
    {
        Id = Id<Station>(station.Id),
        Name = station.Name,
        Wetland = Id<Wetland>(station.Wetland.Id),
        Watershed = Code(station.Wetland.Watershed.Code),
        Place = GeoPoint.At(station.Place.Latitude, station.Place.Longitude),
    };

    private static Species SpeciesOf(DemoSpecies species) => new()
    {
        Id = Id<Species>(species.Id),
        ScientificName = species.ScientificName,
        CommonName = species.CommonName,
        Window = species.Window,
        Conservatism = Conservatism.Parse(FormattableString.Invariant($"{species.Conservatism}")).Value,
        Protected = species.Protected,
    };

    private static Survey SurveyOf(DemoSurvey survey) => new()
    {
        Id = Id<Survey>(survey.Id),
        Station = Id<Station>(survey.Station.Id),
        Date = survey.Date,
        StartTime = survey.Start,
        Minutes = survey.Minutes,
        Observer = survey.Observer,
        AirTempC = survey.AirTempC,
        WindBeaufort = survey.Wind,
        SkyCode = survey.SkyCode,
        Noise = survey.Noise,
        Notes = survey.Notes,
        Calls = [.. survey.Calls.Select(call => new Call(Id<Species>(call.Species.Id), CallLevel.Of(call.Level).Value)).OrderBy(call => call.Species)],
    };

    private static Id<T> Id<T>(string text)
        where T : IIdentified => Monitoring.Id<T>.Parse(text).Value;

    private static WatershedCode Code(string digits) => WatershedCode.Parse(digits).Value;
}
