using Indicators.Monitoring;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Folders;

/// <summary>Reads the rows of each file of an import folder into the field's types.</summary>
internal static class RowParsers
{
    private const int FirstYear = 1900;
    private const double MostMinutes = 600;
    private static readonly string[] EffortUnits = ["minutes", "minute", "min"];

    public static Watershed? Watershed(RowFields row)
    {
        var code = row.Required("watershed_code", WatershedCode.Parse);
        string? name = row.RequiredText("name", "a name", "what people call the watershed");
        return row.IsRefused ? null : new Watershed(code!.Value, name!);
    }

    public static StationRow? Station(RowFields row)
    {
        var id = row.Required("station_id", Id<Station>.Parse);
        var wetland = row.Required("wetland_id", Id<Wetland>.Parse);
        var code = row.Required("watershed_code", WatershedCode.Parse);
        var latitude = row.Required("latitude", GeoPoint.ParseLatitude);
        var longitude = row.Required("longitude", GeoPoint.ParseLongitude);
        var stop = row.Whole("stop_number", "a stop number", 1, int.MaxValue, "a whole number from 1, or nothing");
        var weight = row.Number("weight", "a weight", 1e-6, 1e6, "a number from 0.000001 to 1000000, or nothing for 1");
        if (row.IsRefused) return null;
        var station = new Station
        {
            Id = id!.Value,
            Name = row.Text("name"),
            Wetland = wetland!.Value,
            Watershed = code!.Value,
            Place = GeoPoint.At(latitude!.Value, longitude!.Value),
            RouteId = row.Text("route_id"),
            StopNumber = stop,
            Weight = weight ?? 1,
        };
        return new StationRow(station, row.Text("wetland_name"), row.Text("wetland_class"));
    }

    public static Species? Species(RowFields row)
    {
        var id = row.Required("species_id", Id<Species>.Parse);
        string? scientific = row.RequiredText("scientific_name", "a scientific name", "the accepted scientific name");
        string? common = row.RequiredText("common_name", "a common name", "the name people use");
        var first = row.Required("window_start", CallingWindow.ParseDay);
        var last = row.Required("window_end", CallingWindow.ParseDay);
        var sensitivity = row.Required("sensitivity", Conservatism.Parse);
        var isProtected = row.Optional("sensitive_location", ParseYesOrNo);
        return row.IsRefused ? null : new Species
        {
            Id = id!.Value,
            ScientificName = scientific!,
            CommonName = common!,
            OtherNames = OtherNames.Of(row.ByLanguage(FolderLayout.OtherNames)),
            Window = new CallingWindow(first!.Value, last!.Value),
            Conservatism = sensitivity!.Value,
            Protected = isProtected ?? false,
        };
    }

    public static ExpectedSpecies? Expected(RowFields row)
    {
        var code = row.Required("watershed_code", WatershedCode.Parse);
        var species = row.Required("species_id", Id<Species>.Parse);
        var first = row.Optional("window_start", CallingWindow.ParseDay);
        var last = row.Optional("window_end", CallingWindow.ParseDay);
        if (!row.IsRefused && first is null != last is null)
        {
            row.Refuse(first is null ? "window_start" : "window_end",
                new FieldProblem("", "the other end of the window", "both ends as MM-DD, or neither for the species' own window"));
        }
        if (row.IsRefused) return null;
        return new ExpectedSpecies(code!.Value, species!.Value, first is null ? null : new CallingWindow(first.Value, last!.Value));
    }

    public static Survey? Survey(RowFields row, FolderReadOptions options)
    {
        var id = row.Required("survey_id", Id<Survey>.Parse);
        var station = row.Required("station_id", Id<Station>.Parse);
        var night = row.Heading("date").Equals("eventDate", StringComparison.OrdinalIgnoreCase)
            ? EventNight(row, options)
            : (Date: row.Required("date", ParseDate), Start: row.Optional("start_time", ParseTime), Shifted: false);
        if (night.Date is { } date)
        {
            if (date.Year < FirstYear)
                row.Refuse("date", new FieldProblem(row.Raw("date"), "a survey's date", $"a date from {FirstYear} on"));
            else if (date > options.Today)
                row.Refuse(row.Here(ProblemKind.FutureDate) with
                {
                    Column = row.Heading("date"),
                    Value = row.Raw("date"),
                    Rule = LocalDatePattern.Iso.Format(options.Today),
                });
        }
        var minutes = row.Optional("minutes", ParseMinutes);
        var temperature = row.Number("air_temp_c", "an air temperature", -60, 60, "degrees Celsius from -60 to 60, with a point, or nothing");
        var wind = row.Whole("wind_beaufort", "a wind force", 0, 12, "a whole number from 0 to 12 (Beaufort), or nothing");
        if (row.IsRefused) return null;
        if (night.Shifted) row.EveningsBefore++;
        return new Survey
        {
            Id = id!.Value,
            Station = station!.Value,
            Date = night.Date!.Value,
            StartTime = night.Start,
            Minutes = minutes,
            Observer = row.Text("observer"),
            AirTempC = temperature,
            WindBeaufort = wind,
            SkyCode = row.Text("sky_code"),
            Noise = row.Text("noise"),
            Notes = row.Text("notes"),
            Calls = [],
        };
    }

    public static CallRow? Call(RowFields row)
    {
        var survey = row.Required("survey_id", Id<Survey>.Parse);
        var species = row.Required("species_id", Id<Species>.Parse);
        var level = row.Required("call_index", CallLevel.Parse);
        return row.IsRefused ? null : new CallRow(survey!.Value, new Call(species!.Value, level!.Value));
    }

    private static (LocalDate? Date, LocalTime? Start, bool Shifted) EventNight(RowFields row, FolderReadOptions options)
    {
        var read = EventMoment.Parse(row.Raw("date"), row.Text("start_time"), options.Zone);
        if (read.DateProblem is not null) row.Refuse("date", read.DateProblem);
        if (read.TimeProblem is not null) row.Refuse("start_time", read.TimeProblem);
        return read.Moment is { } moment ? (moment.Evening, moment.Start, moment.IsAfterMidnight) : (null, null, false);
    }

    private static Parsed<LocalDate> ParseDate(string text)
    {
        var date = LocalDatePattern.Iso.Parse(text.Trim());
        return date.Success ? date.Value : new FieldProblem(text, "a date", "the evening the night began as YYYY-MM-DD");
    }

    private static Parsed<LocalTime> ParseTime(string text) =>
        EventMoment.ParseClock(text.Trim()) ?? (Parsed<LocalTime>)new FieldProblem(text, "a time", "the local start as HH:MM, or nothing");

    private static Parsed<double> ParseMinutes(string text)
    {
        string number = text.Trim();
        if (EffortUnits.FirstOrDefault(unit => number.EndsWith(unit, StringComparison.OrdinalIgnoreCase)) is { } found)
            number = number[..^found.Length].TrimEnd();
        return double.TryParse(number, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out double minutes)
            && minutes is > 0 and <= MostMinutes
            ? minutes
            : new FieldProblem(text, "a listening time", "minutes above 0 and up to 600, such as 5 or 5 min, or nothing");
    }

    private static Parsed<bool> ParseYesOrNo(string text) => text.Trim().ToUpperInvariant() switch
    {
        "TRUE" or "YES" or "1" => true,
        "FALSE" or "NO" or "0" => false,
        _ => new FieldProblem(text, "a yes or a no", "true or false, or nothing for false"),
    };
}
