namespace Indicators.Exchange.Folders;

/// <summary>
/// The files of an import folder and their columns. The Darwin Core terms are those of the version of 2026-05-26
/// (tdwg/dwc, commit 4f1cb23).
/// </summary>
public static class FolderLayout
{
    /// <summary>The column that rejects carry; passed over in silence when a mended file is read again.</summary>
    public const string ReasonColumn = "reason";

    /// <summary>What the headings of names in other languages begin with: <c>common_name_es</c>.</summary>
    public const string OtherNames = "common_name_";

    /// <summary>The file of shapes, GeoJSON (RFC 7946).</summary>
    public const string ShapesFile = "watersheds.geojson";

    /// <summary>Names of watersheds.</summary>
    public static readonly FileLayout Watersheds = new("watersheds.csv",
    [
        new("watershed_code", "higherGeographyID", Required: true),
        new("name", Required: true),
    ]);

    /// <summary>Stations and the wetlands they listen to.</summary>
    public static readonly FileLayout Stations = new("stations.csv",
    [
        new("station_id", "locationID", Required: true),
        new("name", "locality"),
        new("wetland_id", Required: true),
        new("watershed_code", "higherGeographyID", Required: true),
        new("latitude", "decimalLatitude", Required: true),
        new("longitude", "decimalLongitude", Required: true),
        new("wetland_name"),
        new("wetland_class"),
        new("route_id"),
        new("stop_number"),
        new("weight"),
    ]);

    /// <summary>Species.</summary>
    public static readonly FileLayout Species = new("species.csv",
    [
        new("species_id", "taxonID", Required: true),
        new("scientific_name", "scientificName", Required: true),
        new("common_name", "vernacularName", Required: true),
        new(OtherNames, ByLanguage: true),
        new("window_start", Required: true),
        new("window_end", Required: true),
        new("sensitivity", Required: true),
        new("sensitive_location"),
    ]);

    /// <summary>Surveys.</summary>
    public static readonly FileLayout Surveys = new("surveys.csv",
    [
        new("survey_id", "eventID", Required: true),
        new("station_id", "locationID", Required: true),
        new("date", "eventDate", Required: true),
        new("start_time", "eventTime"),
        new("minutes", "samplingEffort"),
        new("observer", "recordedBy"),
        new("air_temp_c"),
        new("wind_beaufort"),
        new("sky_code"),
        new("noise"),
        new("notes"),
    ]);

    /// <summary>What was heard on them.</summary>
    public static readonly FileLayout Calls = new("calls.csv",
    [
        new("survey_id", "eventID", Required: true),
        new("species_id", "taxonID", Required: true),
        new("call_index", "organismQuantity", Required: true),
    ]);

    /// <summary>Which species belong to which watershed.</summary>
    public static readonly FileLayout Expected = new("expected.csv",
    [
        new("watershed_code", "higherGeographyID", Required: true),
        new("species_id", "taxonID", Required: true),
        new("window_start"),
        new("window_end"),
    ]);

    /// <summary>All delimited files, in the order they are read and reported.</summary>
    public static readonly IReadOnlyList<FileLayout> Delimited = [Watersheds, Stations, Species, Expected, Surveys, Calls];

    /// <summary>All files' names, in the order they are reported.</summary>
    public static readonly IReadOnlyList<string> Files =
        [Watersheds.File, ShapesFile, Stations.File, Species.File, Expected.File, Surveys.File, Calls.File];
}
