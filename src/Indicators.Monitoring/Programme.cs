namespace Indicators.Monitoring;

/// <summary>Everything a programme has written down that an analysis reads.</summary>
/// <param name="Watersheds">Named watersheds; codes that stations use may be missing here.</param>
/// <param name="Wetlands">All wetlands.</param>
/// <param name="Stations">All stations.</param>
/// <param name="Species">All species.</param>
/// <param name="Expected">The expected lists, empty when the programme keeps none.</param>
/// <param name="Surveys">Accepted surveys only.</param>
public sealed record ProgrammeData(
    IReadOnlyList<Watershed> Watersheds,
    IReadOnlyList<Wetland> Wetlands,
    IReadOnlyList<Station> Stations,
    IReadOnlyList<Species> Species,
    IReadOnlyList<ExpectedSpecies> Expected,
    IReadOnlyList<Survey> Surveys);
