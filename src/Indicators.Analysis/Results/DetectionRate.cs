using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>A third of a species' calling window, by days.</summary>
public enum WindowPart
{
    /// <summary>Its first third.</summary>
    Early,

    /// <summary>Its second third.</summary>
    Middle,

    /// <summary>Its last third.</summary>
    Late,
}

/// <summary>How likely one survey of an occupied wetland is to hear the species in one part of its calling window.</summary>
/// <param name="Area">The area.</param>
/// <param name="Species">The species.</param>
/// <param name="Part">The part of the window. Parts with few visits share the rate of a neighbour.</param>
/// <param name="Visits">Eligible surveys in that part.</param>
/// <param name="Detections">Those that heard it; null for a protected species.</param>
/// <param name="P">The chance, 0 to 1.</param>
/// <param name="StandardError">Its standard error; null at 0 or 1.</param>
/// <param name="Lower">Lower end of its interval, Wald on the logit, by likelihood ratio at 0 or 1; null where there is none.</param>
/// <param name="Upper">Upper end of its interval.</param>
/// <param name="VisitsForAbsence">Silent visits in this part after which it would have been missed with the programme's chance at most; null when p is 0.</param>
/// <param name="VisitsForAbsenceCautious">The same at the lower end of the interval: how many it may take.</param>
public sealed record DetectionRate(
    WatershedCode Area,
    Id<Species> Species,
    WindowPart Part,
    int Visits,
    int? Detections,
    double P,
    double? StandardError,
    double? Lower,
    double? Upper,
    int? VisitsForAbsence,
    int? VisitsForAbsenceCautious);
