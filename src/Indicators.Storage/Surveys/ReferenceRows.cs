using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Surveys;

/// <summary>Reads everything but surveys. Ordered by id, ordinally.</summary>
internal static class ReferenceRows
{
    internal static StoredReference All(SqliteConnection connection) => new(
        Watersheds(connection),
        Shapes(connection),
        Wetlands(connection),
        Stations(connection),
        SpeciesList(connection),
        Expected(connection));

    private sealed record CodeRow(string Code, string Text);

    private static List<Watershed> Watersheds(SqliteConnection connection) =>
        [.. connection.Query<CodeRow>("SELECT code, name AS text FROM watershed ORDER BY code")
            .Select(row => new Watershed(StoredText.Code(row.Code), row.Text))];

    private static List<WatershedShape> Shapes(SqliteConnection connection) =>
        [.. connection.Query<CodeRow>("SELECT code, geometry AS text FROM watershed_shape ORDER BY code")
            .Select(row => new WatershedShape(StoredText.Code(row.Code), row.Text))];

    private sealed record WetlandRow(string WetlandId, string? Name, string? Class);

    private static List<Wetland> Wetlands(SqliteConnection connection) =>
        [.. connection.Query<WetlandRow>("SELECT wetland_id AS WetlandId, name AS Name, class AS Class FROM wetland")
            .Select(row => new Wetland(StoredText.Id<Wetland>(row.WetlandId), row.Name, row.Class))
            .OrderBy(wetland => wetland.Id)];

    private sealed record StationRow(
        string StationId,
        string? Name,
        string WetlandId,
        string WatershedCode,
        double Latitude,
        double Longitude,
        string? RouteId,
        long? StopNumber,
        double Weight);

    private static List<Station> Stations(SqliteConnection connection) =>
        [.. connection.Query<StationRow>("""
            SELECT
                station_id AS StationId,
                station.name AS Name,
                wetland_id AS WetlandId,
                watershed_code AS WatershedCode,
                latitude AS Latitude,
                longitude AS Longitude,
                route_id AS RouteId,
                stop_number AS StopNumber,
                weight AS Weight
            FROM station
            JOIN wetland ON wetland.id = station.wetland
            """)
            .Select(row => new Station
            {
                Id = StoredText.Id<Station>(row.StationId),
                Name = row.Name,
                Wetland = StoredText.Id<Wetland>(row.WetlandId),
                Watershed = StoredText.Code(row.WatershedCode),
                Place = GeoPoint.At(row.Latitude, row.Longitude),
                RouteId = row.RouteId,
                StopNumber = (int?)row.StopNumber,
                Weight = row.Weight,
            })
            .OrderBy(station => station.Id)];

    private static List<Species> SpeciesList(SqliteConnection connection) =>
        [.. connection.Query<SpeciesRow>($"SELECT {SpeciesRow.Columns} FROM species").Select(row => row.ToSpecies()).OrderBy(species => species.Id)];

    private sealed record ExpectedRow(string WatershedCode, string SpeciesId, string? WindowStart, string? WindowEnd);

    private static List<ExpectedSpecies> Expected(SqliteConnection connection) =>
        [.. connection.Query<ExpectedRow>("""
            SELECT
                watershed_code AS WatershedCode,
                species_id AS SpeciesId,
                expected_species.window_start AS WindowStart,
                expected_species.window_end AS WindowEnd
            FROM expected_species
            JOIN species ON species.id = expected_species.species
            """)
            .Select(row => new ExpectedSpecies(
                StoredText.Code(row.WatershedCode),
                StoredText.Id<Species>(row.SpeciesId),
                row.WindowStart is null ? null : StoredText.Window(row.WindowStart, row.WindowEnd!)))
            .OrderBy(expected => expected.Watershed).ThenBy(expected => expected.Species)];
}
