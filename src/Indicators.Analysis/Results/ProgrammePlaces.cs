using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>What a name of the gazetteer belongs to.</summary>
public enum GazetteerKind
{
    /// <summary>A watershed.</summary>
    Watershed,

    /// <summary>A wetland.</summary>
    Wetland,

    /// <summary>A station.</summary>
    Station,
}

/// <summary>One name of the programme's own gazetteer. Holds no coordinate, and no name that tells of a protected species.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Area">The smallest analysed watershed that holds it.</param>
/// <param name="Wetland">The short name of the wetland it is or listens to; null for a watershed and where nobody ever listened.</param>
public sealed record GazetteerEntry(string Name, GazetteerKind Kind, WatershedCode Area, string? Wetland);

/// <summary>A wetland that was listened to.</summary>
/// <param name="Wetland">The wetland.</param>
/// <param name="Slug">Its name in addresses: its id in small ASCII letters, digits and hyphens, unique in the edition.</param>
/// <param name="Name">What people call it, or null.</param>
/// <param name="Area">The smallest watershed that holds all its stations.</param>
/// <param name="Stations">Its stations with an accepted survey.</param>
/// <param name="Surveys">Their accepted surveys.</param>
/// <param name="FirstSeason">The first calendar year with one.</param>
/// <param name="LastSeason">The last.</param>
public sealed record WetlandPlace(
    Id<Wetland> Wetland, string Slug, string? Name, WatershedCode Area, int Stations, int Surveys, int FirstSeason, int LastSeason);

/// <summary>How much listening a wetland had in one calendar year.</summary>
/// <param name="Wetland">The wetland.</param>
/// <param name="Season">The calendar year.</param>
/// <param name="Surveys">Accepted surveys of all its stations, 1 upward.</param>
public sealed record WetlandSeason(Id<Wetland> Wetland, int Season, int Surveys);

/// <summary>
/// What was heard of one species at one wetland in one season. Never of a protected species; of species ever heard there, so
/// a wetland where only a protected one was heard looks like one that was silent.
/// </summary>
/// <param name="Wetland">The wetland.</param>
/// <param name="Species">The species.</param>
/// <param name="Season">The year in which the calling window opened.</param>
/// <param name="Visits">Surveys in the species' calling window, 1 upward.</param>
/// <param name="VisitsHeard">Those that heard it.</param>
/// <param name="MeanCallLevel">Mean call level of all those visits, 0 to 3.</param>
/// <param name="HighestCallLevel">The highest call level, 0 to 3.</param>
public sealed record WetlandCalls(
    Id<Wetland> Wetland, Id<Species> Species, int Season, int Visits, int VisitsHeard, double MeanCallLevel, int HighestCallLevel);

/// <summary>The programme's places as an edition may tell them.</summary>
public sealed record ProgrammePlaces
{
    /// <summary>No place at all.</summary>
    public static ProgrammePlaces Empty { get; } = new();

    /// <summary>Names, ordered by name, kind, area, wetland.</summary>
    public IReadOnlyList<GazetteerEntry> Gazetteer { get; init; } = [];

    /// <summary>Wetlands ordered by short name.</summary>
    public IReadOnlyList<WetlandPlace> Wetlands { get; init; } = [];

    /// <summary>Their listening, ordered by wetland, season.</summary>
    public IReadOnlyList<WetlandSeason> Seasons { get; init; } = [];

    /// <summary>What was heard, ordered by wetland, species, season; made row by row when it is asked for, for a nation's are millions.</summary>
    public IEnumerable<WetlandCalls> Calls { get; init; } = [];
}
