using Indicators.Analysis.Options;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Storage.Surveys;

/// <summary>Where a stored thing came from: kept with every survey, shown to nobody but the programme's own people.</summary>
/// <param name="Who">Who entered it.</param>
/// <param name="When">When.</param>
/// <param name="Folder">The name of the folder it came in, without its path.</param>
public sealed record Origin(string Who, Instant When, string Folder);

/// <summary>A survey to store and the file line its own row stood on.</summary>
public sealed record SurveyEntry(Survey Survey, ReviewStatus Review, string File, int Line);

/// <summary>The shape of a watershed as the programme gave it: a GeoJSON geometry (RFC 7946).</summary>
public sealed record WatershedShape(WatershedCode Code, string GeometryJson);

/// <summary>
/// What one import adds or replaces, already checked. What is identical to the stored thing has been left out before;
/// what is stored under the same id is replaced and its old content written to the log.
/// </summary>
public sealed record ImportBatch
{
    /// <summary>Named watersheds.</summary>
    public IReadOnlyList<Watershed> Watersheds { get; init; } = [];

    /// <summary>Their shapes.</summary>
    public IReadOnlyList<WatershedShape> Shapes { get; init; } = [];

    /// <summary>Wetlands.</summary>
    public IReadOnlyList<Wetland> Wetlands { get; init; } = [];

    /// <summary>Stations.</summary>
    public IReadOnlyList<Station> Stations { get; init; } = [];

    /// <summary>Species.</summary>
    public IReadOnlyList<Species> Species { get; init; } = [];

    /// <summary>Expected lists.</summary>
    public IReadOnlyList<ExpectedSpecies> Expected { get; init; } = [];

    /// <summary>Surveys with their calls.</summary>
    public IReadOnlyList<SurveyEntry> Surveys { get; init; } = [];

    /// <summary>The programme's settings when the import gave any, else null: the stored ones stay.</summary>
    public ProgrammeSettings? Settings { get; init; }

    /// <summary>Whether there is nothing to store.</summary>
    public bool IsEmpty =>
        Watersheds.Count + Shapes.Count + Wetlands.Count + Stations.Count + Species.Count + Expected.Count + Surveys.Count == 0
        && Settings is null;
}

/// <summary>The reference side of what is stored: everything but surveys.</summary>
public sealed record StoredReference(
    IReadOnlyList<Watershed> Watersheds,
    IReadOnlyList<WatershedShape> Shapes,
    IReadOnlyList<Wetland> Wetlands,
    IReadOnlyList<Station> Stations,
    IReadOnlyList<Species> Species,
    IReadOnlyList<ExpectedSpecies> Expected);

/// <summary>The surveys people made and everything they refer to.</summary>
public interface ISurveyStore
{
    /// <summary>Everything but the surveys.</summary>
    StoredReference Reference();

    /// <summary>The stored settings, or null when none were ever given.</summary>
    ProgrammeSettings? Settings();

    /// <summary>The stored surveys with these ids, whatever their review status; unknown ids are left out.</summary>
    IReadOnlyDictionary<Id<Survey>, Survey> Find(IReadOnlyCollection<Id<Survey>> ids);

    /// <summary>Stores a whole import in one transaction, or nothing of it.</summary>
    /// <param name="batch">What to store.</param>
    /// <param name="origin">Who, when, from where.</param>
    /// <param name="progress">Told the number of surveys stored so far; may be null.</param>
    /// <param name="cancel">Stops before the commit and leaves the database as it was.</param>
    void Import(ImportBatch batch, Origin origin, IProgress<int>? progress, CancellationToken cancel);

    /// <summary>Everything an analysis reads: the reference side and the accepted surveys, in a fixed order.</summary>
    ProgrammeData Accepted();

    /// <summary>
    /// The same as it stood at an earlier moment: without later surveys, and with replaced surveys, stations and windows of expected
    /// species as they were. Stations and expected rows added later stay, and so do today's names and lists of species.
    /// </summary>
    /// <param name="at">The moment; imports after it are undone.</param>
    ProgrammeData AcceptedAt(Instant at);
}
