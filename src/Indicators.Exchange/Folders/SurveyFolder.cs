using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>A row of stations.csv: the station, and what the row says of its wetland.</summary>
/// <param name="Station">The station.</param>
/// <param name="WetlandName">What people call the wetland, or null when this row does not say.</param>
/// <param name="WetlandClass">The wetland's class, or null when this row does not say.</param>
public sealed record StationRow(Station Station, string? WetlandName, string? WetlandClass);

/// <summary>A row of calls.csv.</summary>
/// <param name="Survey">The survey it belongs to.</param>
/// <param name="Call">What was heard.</param>
public sealed record CallRow(Id<Survey> Survey, Call Call);

/// <summary>A feature of watersheds.geojson.</summary>
/// <param name="Code">The watershed.</param>
/// <param name="Name">Its name, or null when the feature has none.</param>
/// <param name="GeometryJson">The geometry as GeoJSON: its type and coordinates, without white space.</param>
public sealed record ShapeRow(WatershedCode Code, string? Name, string GeometryJson);

/// <summary>Everything an import folder says, file by file, before anything is compared across files.</summary>
public sealed record SurveyFolder
{
    /// <summary>The folder's own name, without the folders above it.</summary>
    public required string Name { get; init; }

    /// <summary>Names of watersheds.</summary>
    public required FolderFile<Watershed> Watersheds { get; init; }

    /// <summary>Shapes of watersheds.</summary>
    public required FolderFile<ShapeRow> Shapes { get; init; }

    /// <summary>Stations with what they say of wetlands.</summary>
    public required FolderFile<StationRow> Stations { get; init; }

    /// <summary>Species.</summary>
    public required FolderFile<Species> Species { get; init; }

    /// <summary>Expected lists.</summary>
    public required FolderFile<ExpectedSpecies> Expected { get; init; }

    /// <summary>Surveys, still without their calls.</summary>
    public required FolderFile<Survey> Surveys { get; init; }

    /// <summary>Calls.</summary>
    public required FolderFile<CallRow> Calls { get; init; }

    /// <summary>Notes about files that are not read.</summary>
    public IReadOnlyList<Problem> Notes { get; init; } = [];
}

/// <summary>What reading a folder gave: the folder, or why it could not be read at all.</summary>
/// <param name="Folder">The folder, null when there is a failure.</param>
/// <param name="Failure">Why nothing could be read, or null.</param>
public sealed record FolderRead(SurveyFolder? Folder, Problem? Failure);

/// <summary>What reading a folder needs to know from outside.</summary>
/// <param name="Zone">The zone that the programme's times are local to; events with an offset are turned to it.</param>
/// <param name="Today">Today's date there; later dates are refused.</param>
public sealed record FolderReadOptions(NodaTime.DateTimeZone Zone, NodaTime.LocalDate Today);
