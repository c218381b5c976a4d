using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Which model of occupancy with imperfect detection a result rests on, or why there is none.</summary>
public enum OccupancyBasis
{
    /// <summary>Colonisation and extinction from season to season; every rate lies between 0 and 1.</summary>
    ManySeasons,

    /// <summary>The same with some rate at 0 or 1, where intervals rest on the likelihood ratio.</summary>
    ManySeasonsBoundary,

    /// <summary>The same occupancy in every season, because colonisation and extinction cannot be told apart or there is one season.</summary>
    OneOccupancy,

    /// <summary>None: never heard on an eligible survey of the area.</summary>
    NeverHeard,

    /// <summary>None: too few wetlands with eligible surveys.</summary>
    FewWetlands,

    /// <summary>None: the data do not tell occupied but missed from empty, for instance with one visit a season.</summary>
    NotIdentified,
}

/// <summary>
/// Occupancy of the wetlands of one area by one species over all its seasons: what does not differ from season to season.
/// A visit is one eligible survey at any station of a wetland.
/// </summary>
public sealed record OccupancyRates
{
    /// <summary>The area, a watershed of any level.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The model, or why there is none.</summary>
    public required OccupancyBasis Basis { get; init; }

    /// <summary>Wetlands with an eligible survey.</summary>
    public int Wetlands { get; init; }

    /// <summary>Wetlands that ever heard it; null for a protected species.</summary>
    public int? WetlandsHeard { get; init; }

    /// <summary>Eligible surveys.</summary>
    public int Visits { get; init; }

    /// <summary>The chance that an empty wetland is occupied in the next season, 0 to 1; null when not estimated.</summary>
    public double? Colonisation { get; init; }

    /// <summary>Lower end of its interval; null without one.</summary>
    public double? ColonisationLower { get; init; }

    /// <summary>Upper end of its interval.</summary>
    public double? ColonisationUpper { get; init; }

    /// <summary>The chance that an occupied wetland is empty in the next season, 0 to 1; null when not estimated.</summary>
    public double? Extinction { get; init; }

    /// <summary>Lower end of its interval; null without one.</summary>
    public double? ExtinctionLower { get; init; }

    /// <summary>Upper end of its interval.</summary>
    public double? ExtinctionUpper { get; init; }

    /// <summary>
    /// Silent visits, one in each part of the calling window in turn, after which an occupied wetland would have been missed
    /// with the programme's chance (0.05 by default) at most; null when detection is not estimated.
    /// </summary>
    public int? VisitsForAbsence { get; init; }
}
