using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Storage.Tests;

/// <summary>A small invented programme: two watersheds, two wetlands, two stations, two species, a few surveys.</summary>
internal static class Invented
{
    internal static readonly Origin Origin = new("A. Keeper", Instant.FromUtc(2026, 3, 1, 12, 0), "spring");

    internal static Id<Survey> Survey(string id) => Id<Survey>.Parse(id).Value;

    internal static Id<Station> Station(string id) => Id<Station>.Parse(id).Value;

    internal static Id<Species> Frog(string id) => Id<Species>.Parse(id).Value;

    internal static Id<Wetland> Pond(string id) => Id<Wetland>.Parse(id).Value;

    internal static WatershedCode Code(string digits) => WatershedCode.Parse(digits).Value;

    internal static CallingWindow Window(string first, string last) =>
        new(CallingWindow.ParseDay(first).Value, CallingWindow.ParseDay(last).Value);

    internal static Species Species(string id, bool isProtected = false) => new()
    {
        Id = Frog(id),
        ScientificName = $"Rana {id}",
        CommonName = $"{id} frog",
        OtherNames = isProtected ? OtherNames.None : OtherNames.Of([new("es", $"rana {id}"), new("de", $"{id}-Frosch")]),
        Window = Window("03-15", "07-31"),
        Conservatism = Conservatism.Parse("6.5").Value,
        Protected = isProtected,
    };

    internal static Station StationOf(string id, string wetland, string watershed) => new()
    {
        Id = Station(id),
        Name = null,
        Wetland = Pond(wetland),
        Watershed = Code(watershed),
        Place = GeoPoint.At(45.123456789012345, -90.5),
        RouteId = "R1",
        StopNumber = 2,
        Weight = 1.5,
    };

    internal static Survey Night(string id, string station, LocalDate date, params (string Species, int Level)[] calls) => new()
    {
        Id = Survey(id),
        Station = Station(station),
        Date = date,
        StartTime = new LocalTime(21, 30),
        Minutes = 5,
        Observer = "B. Listener",
        AirTempC = 12.25,
        WindBeaufort = 2,
        SkyCode = "1",
        Noise = "0",
        Notes = "a \"quoted\" note\nof two lines",
        Calls = [.. calls.Select(call => new Call(Frog(call.Species), CallLevel.Of(call.Level).Value))],
    };

    internal static SurveyEntry Entry(Survey survey, int line = 2) => new(survey, ReviewStatus.Accepted, "surveys.csv", line);

    internal static readonly Survey Silent = Night("s-2", "00T2", new LocalDate(2020, 4, 21)) with
    {
        StartTime = null,
        Minutes = null,
        Observer = null,
        AirTempC = null,
        WindBeaufort = null,
        SkyCode = null,
        Noise = null,
        Notes = null,
    };

    internal static readonly Survey Loud = Night("s-1", "00T1", new LocalDate(2020, 4, 20), ("marsh", 3), ("wood", 1));

    internal static ImportBatch Batch() => new()
    {
        Watersheds = [new Watershed(Code("99010101"), "Invented Lakes"), new Watershed(Code("9901010101"), "Upper Invented")],
        Shapes = [new WatershedShape(Code("9901010101"), """{"type":"Polygon","coordinates":[[[-91,45],[-90,45],[-90,46],[-91,45]]]}""")],
        Wetlands = [new Wetland(Pond("W1"), "First Pond", "Palustrine emergent"), new Wetland(Pond("W2"), null, null)],
        Stations = [StationOf("00T1", "W1", "9901010101"), StationOf("00T2", "W2", "9901010101")],
        Species = [Species("wood"), Species("marsh", isProtected: true)],
        Expected =
        [
            new ExpectedSpecies(Code("9901"), Frog("wood"), null),
            new ExpectedSpecies(Code("9901"), Frog("marsh"), Window("11-01", "02-15")),
        ],
        Surveys = [Entry(Loud, 2), Entry(Silent, 3)],
    };
}
