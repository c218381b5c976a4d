using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Indicators.Storage.Editions.Tables;

/// <summary>When species are listened for and were heard.</summary>
internal static class CallingTimeTable
{
    internal static readonly ResultTable<CallingTime> Times = new(
        "edition_calling_time",
        "area, species_id",
        row => new CallingTime
        {
            Area = row.Area(),
            Species = row.Species(),
            Window = StoredText.Window(row.Text("window_start"), row.Text("window_end")),
            FirstHeard = row.Day("first_heard"),
            MedianHeard = row.Day("median_heard"),
            LastHeard = row.Day("last_heard"),
            SurveysHeard = row.WholeOrNull("surveys_heard"),
        },
        [
            new("area", time => time.Area.ToString()),
            new("species_id", time => time.Species.ToString()),
            new("window_start", time => StoredText.Of(time.Window.First)),
            new("window_end", time => StoredText.Of(time.Window.Last)),
            new("first_heard", time => Text(time.FirstHeard)),
            new("median_heard", time => Text(time.MedianHeard)),
            new("last_heard", time => Text(time.LastHeard)),
            new("surveys_heard", time => time.SurveysHeard),
        ]);

    private static string? Text(AnnualDate? day) => day is { } known ? StoredText.Of(known) : null;

    private static AnnualDate? Day(this SqliteDataReader row, string column) =>
        row.TextOrNull(column) is { } text ? CallingWindow.ParseDay(text).Value : null;
}
