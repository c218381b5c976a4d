using System.Globalization;
using System.Text;
using Indicators.Monitoring;
using NodaTime.Text;

namespace Indicators.SeedDemo;

/// <summary>Writes a scenario as an import folder: the same bytes every time.</summary>
public static class FolderWriter
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);
    private static readonly LocalDatePattern Date = LocalDatePattern.Iso;
    private static readonly LocalTimePattern Time = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    public static void Write(Scenario scenario, string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (var (name, text) in Files(scenario))
            File.WriteAllText(Path.Combine(folder, name), text, Utf8);
    }

    /// <summary>Every file of the folder and its text.</summary>
    public static IEnumerable<(string Name, string Text)> Files(Scenario scenario)
    {
        yield return ("programme.json", ProgrammeSettingsText.Json);
        yield return ("watersheds.csv", Table("watershed_code,name", District.Larger
            .Concat(District.Smallest.Select(place => (place.Code, place.Name)))
            .OrderBy(w => w.Item1, StringComparer.Ordinal)
            .Select(w => Row(w.Item1, w.Item2))));
        yield return ("watersheds.geojson", GeoJson(scenario.Programme.Geography));
        yield return ("stations.csv", Table(
            "station_id,name,wetland_id,wetland_name,wetland_class,watershed_code,latitude,longitude",
            scenario.Programme.Stations.Select(station => Row(
                station.Id, station.Name, station.Wetland.Id, station.Wetland.Name, station.Wetland.Class,
                station.Wetland.Watershed.Code, Degrees(station.Place.Latitude), Degrees(station.Place.Longitude)))));
        yield return ("species.csv", Table(
            "species_id,scientific_name,common_name,common_name_es,window_start,window_end,sensitivity,sensitive_location",
            DemoSpecies.All.Select(species => Row(
                species.Id, species.ScientificName, species.CommonName, species.SpanishName,
                CallingWindow.FormatDay(species.Window.First), CallingWindow.FormatDay(species.Window.Last),
                Number(species.Conservatism), species.Protected ? "true" : "false"))));
        yield return ("expected.csv", Table("watershed_code,species_id", Scenario.Expected.Select(row => Row(row.Watershed, row.Species.Id))));
        var surveys = scenario.Surveys.All.OrderBy(survey => survey.Date).ThenBy(survey => survey.Station.Number).ToList();
        yield return ("surveys.csv", Table(
            "survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,sky_code,noise,notes",
            surveys.Select(survey => Row(
                survey.Id, survey.Station.Id, Date.Format(survey.Date), survey.Start is { } start ? Time.Format(start) : "",
                Number(survey.Minutes), survey.Observer, survey.AirTempC?.ToString("0.0", CultureInfo.InvariantCulture),
                Number(survey.Wind), survey.SkyCode, survey.Noise, survey.Notes))));
        yield return ("calls.csv", Table("survey_id,species_id,call_index", surveys.SelectMany(survey =>
            survey.Calls.Select(call => Row(survey.Id, call.Species.Id, Number(call.Level))))));
    }

    private static string Table(string heading, IEnumerable<string> rows)
    {
        var text = new StringBuilder(heading).Append('\n');
        foreach (string row in rows)
            text.Append(row).Append('\n');
        return text.ToString();
    }

    private static string Row(params string?[] cells) => string.Join(',', cells.Select(Quoted));

    private static string? Quoted(string? cell) =>
        cell is not null && cell.AsSpan().ContainsAny(",\"\n") ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Degrees(double value) => value.ToString("0.00000", CultureInfo.InvariantCulture);

    /// <summary>RFC 7946: longitude before latitude, outer rings counter-clockwise.</summary>
    private static string GeoJson(Geography geography)
    {
        var names = District.Larger.Where(w => w.Code.Length >= 8).Concat(District.Smallest.Select(place => (place.Code, place.Name)));
        var features = names.OrderBy(w => w.Item1, StringComparer.Ordinal).Select(w =>
        {
            string ring = string.Join(',', geography.Ring(w.Item1).Select(at => $"[{Degrees(at.Longitude)},{Degrees(at.Latitude)}]"));
            return $$$"""
                {"type":"Feature","properties":{"watershed_code":"{{{w.Item1}}}","name":"{{{w.Item2}}}"},"geometry":{"type":"Polygon","coordinates":[[{{{ring}}}]]}}
                """;
        });
        return "{\"type\":\"FeatureCollection\",\"features\":[\n" + string.Join(",\n", features) + "\n]}\n";
    }
}
