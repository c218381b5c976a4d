using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Storage.Tests.Editions;

/// <summary>Places and calling times with a different value in every field.</summary>
internal static class InventedPlaces
{
    internal static readonly Id<Wetland> Pond = Id<Wetland>.Parse("W 2").Value;

    internal static ProgrammePlaces All { get; } = new()
    {
        Gazetteer =
        [
            new GazetteerEntry("Étang", GazetteerKind.Watershed, Invented.Code("9901"), null),
            new GazetteerEntry("Étang", GazetteerKind.Wetland, Invented.Code("990102"), "w-2"),
            new GazetteerEntry("Étang", GazetteerKind.Station, Invented.Code("9901"), null),
        ],
        Wetlands =
        [
            new WetlandPlace(Id<Wetland>.Parse("W1").Value, "w", null, Invented.Code("9901"), 1, 2, 2003, 2004),
            new WetlandPlace(Pond, "w-2", "Étang", Invented.Code("990102"), 5, 6, 2007, 2008),
        ],
        Seasons = [new WetlandSeason(Pond, 2007, 9), new WetlandSeason(Pond, 2008, 10)],
        Calls = [new WetlandCalls(Pond, Invented.Frog("marsh"), 2007, 11, 12, 1.0 / 3, 3), new WetlandCalls(Pond, Invented.Frog("wood"), 2008, 13, 14, 0.15, 1)],
    };

    internal static IReadOnlyList<CallingTime> CallingTimes(WatershedCode area) =>
    [
        new CallingTime { Area = area, Species = Invented.Frog("marsh"), Window = new CallingWindow(new AnnualDate(11, 1), new AnnualDate(2, 29)) },
        new CallingTime
        {
            Area = area,
            Species = Invented.Frog("wood"),
            Window = new CallingWindow(new AnnualDate(3, 4), new AnnualDate(5, 6)),
            FirstHeard = new AnnualDate(3, 7),
            MedianHeard = new AnnualDate(4, 8),
            LastHeard = new AnnualDate(5, 9),
            SurveysHeard = 131,
        },
    ];
}
