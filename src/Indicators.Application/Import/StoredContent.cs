using System.Globalization;
using Indicators.Exchange.Folders;
using Indicators.Monitoring;
using NodaTime.Text;

namespace Indicators.Application.Import;

/// <summary>One column in which what is given differs from what is stored.</summary>
internal sealed record ContentDifference(string Column, string Given, string Stored);

/// <summary>Compares what is given with what is stored under the same identifier, and names the first column that differs.</summary>
internal static class StoredContent
{
    public static ContentDifference? Difference(Watershed given, Watershed stored) =>
        given == stored ? null : new ContentDifference("name", given.Name, stored.Name);

    public static ContentDifference? Difference(Species given, Species stored) =>
        given == stored ? null : First(
        [
            ("scientific_name", given.ScientificName, stored.ScientificName),
            ("common_name", given.CommonName, stored.CommonName),
            ("window_start", CallingWindow.FormatDay(given.Window.First), CallingWindow.FormatDay(stored.Window.First)),
            ("window_end", CallingWindow.FormatDay(given.Window.Last), CallingWindow.FormatDay(stored.Window.Last)),
            ("sensitivity", Text(given.Conservatism.Value), Text(stored.Conservatism.Value)),
            ("sensitive_location", Text(given.Protected), Text(stored.Protected)),
            .. given.OtherNames.All.Concat(stored.OtherNames.All).Select(name => name.Key).Distinct()
                .Select(language => ($"{FolderLayout.OtherNames}{language}", given.OtherNames.In(language), stored.OtherNames.In(language))),
        ]);

    public static ContentDifference? Difference(Station given, Station stored) =>
        given == stored ? null : First(
            ("name", given.Name, stored.Name),
            ("wetland_id", given.Wetland.ToString(), stored.Wetland.ToString()),
            ("watershed_code", given.Watershed.ToString(), stored.Watershed.ToString()),
            ("latitude", Text(given.Place.Latitude), Text(stored.Place.Latitude)),
            ("longitude", Text(given.Place.Longitude), Text(stored.Place.Longitude)),
            ("route_id", given.RouteId, stored.RouteId),
            ("stop_number", Text(given.StopNumber), Text(stored.StopNumber)),
            ("weight", Text(given.Weight), Text(stored.Weight)));

    public static ContentDifference? Difference(ExpectedSpecies given, ExpectedSpecies stored) =>
        given == stored ? null : new ContentDifference("window_start", Text(given.Window), Text(stored.Window));

    /// <summary>Calls are compared without those of level 0: a written-down silence and a row left out say the same.</summary>
    public static ContentDifference? Difference(Survey given, Survey stored)
    {
        bool sameCalls = given.Calls.Where(IsHeard).OrderBy(c => c.Species).SequenceEqual(stored.Calls.Where(IsHeard).OrderBy(c => c.Species));
        if (sameCalls && given == stored with { Calls = given.Calls }) return null;
        return First(
            ("station_id", given.Station.ToString(), stored.Station.ToString()),
            ("date", LocalDatePattern.Iso.Format(given.Date), LocalDatePattern.Iso.Format(stored.Date)),
            ("start_time", given.StartTime is { } g ? LocalTimePattern.ExtendedIso.Format(g) : null, stored.StartTime is { } s ? LocalTimePattern.ExtendedIso.Format(s) : null),
            ("minutes", Text(given.Minutes), Text(stored.Minutes)),
            ("observer", given.Observer, stored.Observer),
            ("air_temp_c", Text(given.AirTempC), Text(stored.AirTempC)),
            ("wind_beaufort", Text(given.WindBeaufort), Text(stored.WindBeaufort)),
            ("sky_code", given.SkyCode, stored.SkyCode),
            ("noise", given.Noise, stored.Noise),
            ("notes", given.Notes, stored.Notes),
            ("calls", Text(given.Calls), Text(stored.Calls)));
    }

    private static bool IsHeard(Call call) => call.Level.Value > 0;

    private static ContentDifference First(params ReadOnlySpan<(string Column, string? Given, string? Stored)> columns)
    {
        foreach (var (column, given, stored) in columns)
        {
            if (given != stored) return new ContentDifference(column, given ?? "", stored ?? "");
        }
        throw new InvalidOperationException("Two contents differ in a column that nobody compares.");
    }

    private static string Text(IReadOnlyList<Call> calls) =>
        string.Join(", ", calls.Where(IsHeard).OrderBy(c => c.Species).Select(c => $"{c.Species} {c.Level}"));

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string? Text(double? value) => value is { } number ? Text(number) : null;

    private static string? Text(int? value) => value?.ToString(CultureInfo.InvariantCulture);

    private static string Text(bool value) => value ? "true" : "false";

    private static string Text(CallingWindow? window) => window?.ToString() ?? "";
}
