using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Exchange.Export;

/// <summary>The tables of places and of calling through the year; see <see cref="ExportTables"/>.</summary>
public static class PlaceExports
{
    /// <summary>One row an area and species: its calling window and the days it was heard.</summary>
    public static ExportTable CallingTimes(IEnumerable<CallingTime> times) => ExportTable.Of("calling_times", times,
    [
        new("watershed_code", time => time.Area.ToString()),
        new("species_id", time => time.Species.ToString()),
        new("window_start", time => CallingWindow.FormatDay(time.Window.First)),
        new("window_end", time => CallingWindow.FormatDay(time.Window.Last)),
        new("first_heard", time => time.FirstHeard is { } day ? CallingWindow.FormatDay(day) : null),
        new("median_heard", time => time.MedianHeard is { } day ? CallingWindow.FormatDay(day) : null),
        new("last_heard", time => time.LastHeard is { } day ? CallingWindow.FormatDay(day) : null),
        new("surveys_heard", time => time.SurveysHeard),
    ]);

    /// <summary>One row a name of a place.</summary>
    public static ExportTable Gazetteer(IEnumerable<GazetteerEntry> entries) => ExportTable.Of("gazetteer", entries,
    [
        new("name", entry => entry.Name),
        new("kind", entry => ResultCode.Of(entry.Kind)),
        new("watershed_code", entry => entry.Area.ToString()),
        new("wetland_short", entry => entry.Wetland),
    ]);

    /// <summary>One row a wetland.</summary>
    public static ExportTable Wetlands(IEnumerable<WetlandPlace> places) => ExportTable.Of("wetlands", places,
    [
        new("wetland_id", place => place.Wetland.ToString()),
        new("wetland_short", place => place.Slug),
        new("name", place => place.Name),
        new("watershed_code", place => place.Area.ToString()),
        new("stations", place => place.Stations),
        new("surveys", place => place.Surveys),
        new("first_season", place => place.FirstSeason),
        new("last_season", place => place.LastSeason),
    ]);

    /// <summary>One row a wetland and season.</summary>
    public static ExportTable WetlandSeasons(IEnumerable<WetlandSeason> seasons) => ExportTable.Of("wetland_seasons", seasons,
    [
        new("wetland_id", season => season.Wetland.ToString()),
        new("season", season => season.Season),
        new("surveys", season => season.Surveys),
    ]);

    /// <summary>One row a wetland, species and season.</summary>
    public static ExportTable WetlandCalls(IEnumerable<WetlandCalls> calls) => ExportTable.Of("wetland_calls", calls,
    [
        new("wetland_id", each => each.Wetland.ToString()),
        new("species_id", each => each.Species.ToString()),
        new("season", each => each.Season),
        new("visits", each => each.Visits),
        new("visits_heard", each => each.VisitsHeard),
        new("mean_call_level", each => each.MeanCallLevel),
        new("highest_call_level", each => each.HighestCallLevel),
    ]);
}
