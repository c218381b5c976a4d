using Indicators.Analysis.Results;

namespace Indicators.Storage.Tests.Editions;

/// <summary>Occupancy, detection and silences with a different value in every field.</summary>
internal static class InventedOccupancy
{
    internal static AreaResult AddedTo(AreaResult result)
    {
        var area = result.Area.Code;
        return result with
        {
            Occupancy =
            [
                new OccupancyPoint(area, Invented.Frog("marsh"), 2012, 61, null, null, 0.62, null, null, OccupancyBasis.ManySeasonsBoundary),
                new OccupancyPoint(area, Invented.Frog("wood"), 2013, 63, 64, 1.0 / 3, 0.65, 0.66, 0.67, OccupancyBasis.ManySeasons),
            ],
            OccupancyRates =
            [
                new OccupancyRates { Area = area, Species = Invented.Frog("marsh"), Basis = OccupancyBasis.FewWetlands },
                new OccupancyRates
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Basis = OccupancyBasis.ManySeasons,
                    Wetlands = 71,
                    WetlandsHeard = 72,
                    Visits = 73,
                    Colonisation = 0.74,
                    ColonisationLower = 0.75,
                    ColonisationUpper = 0.76,
                    Extinction = 0.77,
                    ExtinctionLower = 0.78,
                    ExtinctionUpper = 0.79,
                    VisitsForAbsence = 80,
                },
            ],
            Detection =
            [
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Early, 81, null, 0, null, null, null, null, null),
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Middle, 82, 83, 0.84, 0.85, 0.86, 0.87, 88, 89),
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Late, 90, 91, 0.92, null, null, null, 1, null),
            ],
            Silences =
            [
                new StationSilence
                {
                    Area = area,
                    Kind = SilenceKind.GoneQuiet,
                    Rank = 1,
                    Station = Invented.Station("00T1"),
                    Species = Invented.Frog("wood"),
                    HeardSeason = 2014,
                    SilentVisits = 101,
                    SilentSeasons = 102,
                    Visits = 103,
                    VisitsHeard = 104,
                    Chance = 0.0105,
                    ChancePresent = 0.106,
                },
                new StationSilence
                {
                    Area = area,
                    Kind = SilenceKind.NewlyHeard,
                    Rank = 1,
                    Station = Invented.Station("00T2"),
                    Species = Invented.Frog("wood"),
                    HeardSeason = 2015,
                    SilentVisits = 111,
                    SilentSeasons = 112,
                    Visits = 113,
                    VisitsHeard = 114,
                    Chance = 0.0115,
                },
            ],
            CallingTimes = InventedPlaces.CallingTimes(area),
            SilenceTallies = [new SilenceTally(area, SilenceKind.GoneQuiet, 121, 122, 1.23), new SilenceTally(area, SilenceKind.NewlyHeard, 124, 125, 1.26)],
        };
    }
}
