using Dapper;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage.Surveys;

/// <summary>
/// Writes the reference side of an import. A row that replaces one leaves the old content in reference_log first.
/// There are hundreds of these rows, not hundreds of thousands, so each is simply executed.
/// </summary>
internal static class ReferenceWriter
{
    internal static void Write(SqliteConnection connection, ImportBatch batch, long import)
    {
        Each(batch.Watersheds, watershed => new { import, key = watershed.Code.ToString(), name = watershed.Name }, """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'watershed', code, @import, json_object('name', name) FROM watershed WHERE code = @key;

            INSERT INTO watershed (code, name) VALUES (@key, @name)
            ON CONFLICT (code) DO UPDATE SET name = excluded.name;
            """);
        Each(batch.Shapes, shape => new { import, key = shape.Code.ToString(), geometry = shape.GeometryJson }, """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'shape', code, @import, geometry FROM watershed_shape WHERE code = @key;

            INSERT INTO watershed_shape (code, geometry) VALUES (@key, @geometry)
            ON CONFLICT (code) DO UPDATE SET geometry = excluded.geometry;
            """);
        Each(batch.Wetlands, wetland => new { import, key = wetland.Id.ToString(), name = wetland.Name, type = wetland.Class }, """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'wetland', wetland_id, @import, json_object('name', name, 'class', class) FROM wetland WHERE wetland_id = @key;

            INSERT INTO wetland (wetland_id, name, class) VALUES (@key, @name, @type)
            ON CONFLICT (wetland_id) DO UPDATE SET name = excluded.name, class = excluded.class;
            """);
        Each(
            batch.Stations,
            station => new
            {
                import,
                key = station.Id.ToString(),
                name = station.Name,
                wetland = station.Wetland.ToString(),
                watershed = station.Watershed.ToString(),
                latitude = station.Place.Latitude,
                longitude = station.Place.Longitude,
                route = station.RouteId,
                stop = station.StopNumber,
                weight = station.Weight,
            },
            """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'station', station_id, @import, json_object(
                'name', station.name,
                'wetland_id', wetland.wetland_id,
                'watershed_code', watershed_code,
                'latitude', latitude,
                'longitude', longitude,
                'route_id', route_id,
                'stop_number', stop_number,
                'weight', weight)
            FROM station
            JOIN wetland ON wetland.id = station.wetland
            WHERE station_id = @key;

            INSERT INTO station (station_id, name, wetland, watershed_code, latitude, longitude, route_id, stop_number, weight)
            VALUES (@key, @name, (SELECT id FROM wetland WHERE wetland_id = @wetland), @watershed, @latitude, @longitude,
                @route, @stop, @weight)
            ON CONFLICT (station_id) DO UPDATE SET
                name = excluded.name,
                wetland = excluded.wetland,
                watershed_code = excluded.watershed_code,
                latitude = excluded.latitude,
                longitude = excluded.longitude,
                route_id = excluded.route_id,
                stop_number = excluded.stop_number,
                weight = excluded.weight;
            """);
        Each(
            batch.Species,
            species =>
            {
                var row = SpeciesRow.Of(species);
                return new
                {
                    import,
                    key = row.SpeciesId,
                    row.ScientificName,
                    row.CommonName,
                    row.WindowStart,
                    row.WindowEnd,
                    row.Sensitivity,
                    row.Protected,
                    row.OtherNames,
                };
            },
            """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'species', species_id, @import, json_object(
                'scientific_name', scientific_name,
                'common_name', common_name,
                'window_start', window_start,
                'window_end', window_end,
                'sensitivity', sensitivity,
                'protected', protected,
                'other_names', json(other_names))
            FROM species
            WHERE species_id = @key;

            INSERT INTO species (species_id, scientific_name, common_name, window_start, window_end, sensitivity, protected, other_names)
            VALUES (@key, @ScientificName, @CommonName, @WindowStart, @WindowEnd, @Sensitivity, @Protected, @OtherNames)
            ON CONFLICT (species_id) DO UPDATE SET
                scientific_name = excluded.scientific_name,
                common_name = excluded.common_name,
                window_start = excluded.window_start,
                window_end = excluded.window_end,
                sensitivity = excluded.sensitivity,
                protected = excluded.protected,
                other_names = excluded.other_names;
            """);
        Each(
            batch.Expected,
            expected => new
            {
                import,
                watershed = expected.Watershed.ToString(),
                species = expected.Species.ToString(),
                first = expected.Window is { } window ? StoredText.Of(window.First) : null,
                last = expected.Window is { } same ? StoredText.Of(same.Last) : null,
            },
            """
            INSERT INTO reference_log (kind, key, replaced_by, old_content)
            SELECT 'expected', watershed_code || ' ' || species_id, @import, json_object(
                'window_start', expected_species.window_start,
                'window_end', expected_species.window_end)
            FROM expected_species
            JOIN species ON species.id = expected_species.species
            WHERE watershed_code = @watershed AND species_id = @species;

            INSERT INTO expected_species (watershed_code, species, window_start, window_end)
            VALUES (@watershed, (SELECT id FROM species WHERE species_id = @species), @first, @last)
            ON CONFLICT (watershed_code, species) DO UPDATE SET
                window_start = excluded.window_start,
                window_end = excluded.window_end;
            """);

        void Each<T>(IReadOnlyList<T> rows, Func<T, object> parameters, string sql)
        {
            foreach (var row in rows)
                connection.Execute(sql, parameters(row));
        }
    }
}
