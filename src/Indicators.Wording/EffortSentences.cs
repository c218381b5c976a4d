using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>How much listening lies behind a result, and when it was done.</summary>
public static class EffortSentences
{
    /// <summary>Surveys, stations and wetlands: <c>412 surveys at 24 stations in 20 wetlands</c>.</summary>
    public static string Listening(int surveys, int stations, int wetlands) =>
        Say("effort.listening", ("surveys", surveys), ("stations", stations), ("wetlands", wetlands));

    /// <summary>What an area's results rest on.</summary>
    public static string OfArea(Area area) =>
        Say("effort.ofArea", ("listening", Listening(area.Surveys, area.Stations, area.Wetlands)), ("span", Phrases.Seasons(area.FirstSeason, area.LastSeason)));

    /// <summary>What a whole edition rests on.</summary>
    public static string OfProgramme(EditionCounts counts) =>
        Say("effort.ofProgramme", ("listening", Listening(counts.Surveys, counts.Stations, counts.Wetlands)), ("span", Phrases.Seasons(counts.FirstSeason, counts.LastSeason)));
}
