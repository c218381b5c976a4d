namespace Indicators.Statistics.Occupancy;

/// <summary>How a parameter came out.</summary>
public enum EstimateStatus
{
    /// <summary>A finite maximum with a curvature.</summary>
    Interior,

    /// <summary>The probability is 0 at the maximum: no Wald interval.</summary>
    AtZero,

    /// <summary>The probability is 1 at the maximum: no Wald interval.</summary>
    AtOne,

    /// <summary>The data do not determine it.</summary>
    NotEstimable,
}

/// <summary>How a fit came out.</summary>
public enum OccupancyStatus
{
    /// <summary>Every parameter has a finite maximum.</summary>
    Interior,

    /// <summary>A maximum, with some probability at 0 or 1; its status says which.</summary>
    Boundary,

    /// <summary>Nothing was ever detected: occupied but missed and empty cannot be told apart.</summary>
    NeverDetected,

    /// <summary>Some parameters are not determined, such as occupancy and detection from one visit a site.</summary>
    NotIdentified,

    /// <summary>Covariates split the data so well that an effect runs off to infinity.</summary>
    Separated,

    /// <summary>The search did not settle; should not happen, and is reported instead of a number.</summary>
    NotConverged,
}

/// <summary>One parameter of an occupancy model, on the logit scale.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Index">Its number within its kind, from 0.</param>
/// <param name="Status">How it came out.</param>
/// <param name="Estimate">The estimate: −∞ or +∞ at the boundary, null when not estimable.</param>
/// <param name="StandardError">The standard error from the observed information, parameters at the boundary held there; null but for <see cref="EstimateStatus.Interior"/>.</param>
public readonly record struct OccupancyParameter(OccupancyParameterKind Kind, int Index, EstimateStatus Status, double? Estimate, double? StandardError);
