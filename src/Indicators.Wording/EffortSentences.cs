using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>How much listening lies behind a result, and when it was done.</summary>
public static class EffortSentences
{
    /// <summary>Surveys, stations and wetlands: <c>412 surveys at 24 stations in 20 wetlands</c>.</summary>
    public static string Listening(int surveys, int stations, int wetlands) =>
        $"{Phrases.Count(surveys, "survey", "surveys")} at {Phrases.Count(stations, "station", "stations")} in {Phrases.Count(wetlands, "wetland", "wetlands")}";

    /// <summary>What an area's results rest on.</summary>
    public static string OfArea(Area area) =>
        $"All this rests on {Listening(area.Surveys, area.Stations, area.Wetlands)}, {Phrases.Seasons(area.FirstSeason, area.LastSeason)}.";

    /// <summary>What a whole edition rests on.</summary>
    public static string OfProgramme(EditionCounts counts) =>
        $"We have listened for frogs and toads on {Listening(counts.Surveys, counts.Stations, counts.Wetlands)}, {Phrases.Seasons(counts.FirstSeason, counts.LastSeason)}.";
}
