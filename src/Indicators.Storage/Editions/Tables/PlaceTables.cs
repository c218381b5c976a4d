using Indicators.Analysis.Results;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Names of places, and what was heard at wetlands.</summary>
internal static class PlaceTables
{
    internal static readonly ResultTable<GazetteerEntry> Gazetteer = new(
        "edition_gazetteer",
        "name, CASE kind WHEN 'watershed' THEN 0 WHEN 'wetland' THEN 1 ELSE 2 END, area, wetland_short",
        row => new GazetteerEntry(
            row.Text("name"),
            row.Coded<GazetteerKind>("kind"),
            row.Area(),
            row.Text("wetland_short") is { Length: > 0 } wetland ? wetland : null),
        [
            new("name", entry => entry.Name),
            new("kind", entry => ResultCode.Of(entry.Kind)),
            new("area", entry => entry.Area.ToString()),
            // Part of the key, so never null.
            new("wetland_short", entry => entry.Wetland ?? ""),
        ]);

    internal static readonly ResultTable<WetlandPlace> Wetlands = new(
        "edition_wetland",
        "short",
        row => new WetlandPlace(
            row.Wetland(),
            row.Text("short"),
            row.TextOrNull("name"),
            row.Area(),
            row.Whole("stations"),
            row.Whole("surveys"),
            row.Whole("first_season"),
            row.Whole("last_season")),
        [
            new("wetland_id", place => place.Wetland.ToString()),
            new("short", place => place.Slug),
            new("name", place => place.Name),
            new("area", place => place.Area.ToString()),
            new("stations", place => place.Stations),
            new("surveys", place => place.Surveys),
            new("first_season", place => place.FirstSeason),
            new("last_season", place => place.LastSeason),
        ]);

    internal static readonly ResultTable<WetlandSeason> Seasons = new(
        "edition_wetland_season",
        "wetland_id, season",
        row => new WetlandSeason(row.Wetland(), row.Whole("season"), row.Whole("surveys")),
        [
            new("wetland_id", season => season.Wetland.ToString()),
            new("season", season => season.Season),
            new("surveys", season => season.Surveys),
        ]);

    internal static readonly ResultTable<WetlandCalls> Calls = new(
        "edition_wetland_calls",
        "wetland_id, species_id, season",
        row => new WetlandCalls(
            row.Wetland(),
            row.Species(),
            row.Whole("season"),
            row.Whole("visits"),
            row.Whole("visits_heard"),
            row.Real("mean_call_level"),
            row.Whole("highest_call_level")),
        [
            new("wetland_id", calls => calls.Wetland.ToString()),
            new("species_id", calls => calls.Species.ToString()),
            new("season", calls => calls.Season),
            new("visits", calls => calls.Visits),
            new("visits_heard", calls => calls.VisitsHeard),
            new("mean_call_level", calls => calls.MeanCallLevel),
            new("highest_call_level", calls => calls.HighestCallLevel),
        ]);

    internal static void Write(SqliteConnection connection, long edition, ProgrammePlaces places)
    {
        Gazetteer.Write(connection, edition, places.Gazetteer);
        Wetlands.Write(connection, edition, places.Wetlands);
        Seasons.Write(connection, edition, places.Seasons);
        Calls.Write(connection, edition, places.Calls);
    }
}
