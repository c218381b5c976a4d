using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Occupancy of an area's wetlands by one species in one season.</summary>
/// <remarks>
/// ψ_t follows from rates that are the same in every season, so its course is smooth and speaks of wetlands like these; the
/// raw share is what was heard just then, with what was missed missing. Differences in detection that the parts of the
/// window do not explain make ψ too low.
/// </remarks>
/// <param name="Area">The area.</param>
/// <param name="Species">The species.</param>
/// <param name="Season">The season; seasons without eligible surveys are left out.</param>
/// <param name="Wetlands">Wetlands with an eligible survey in that season.</param>
/// <param name="WetlandsHeard">Those that heard it; null for a protected species, whose places it could tell.</param>
/// <param name="RawShare">Their share, 0 to 1; null for a protected species.</param>
/// <param name="Psi">ψ_t, the chance that a wetland is occupied, 0 to 1; null without a model.</param>
/// <param name="Lower">Lower end of its interval: by the delta method on the logit, with likelihood-ratio room for rates at 0 or 1; null without a model.</param>
/// <param name="Upper">Upper end of its interval.</param>
/// <param name="Basis">The model, or why there is none.</param>
public sealed record OccupancyPoint(
    WatershedCode Area,
    Id<Species> Species,
    int Season,
    int Wetlands,
    int? WetlandsHeard,
    double? RawShare,
    double? Psi,
    double? Lower,
    double? Upper,
    OccupancyBasis Basis);
