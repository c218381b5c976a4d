namespace Indicators.Statistics.Adjusted;

/// <summary>What stands beside the covariates.</summary>
public enum AdjustedModel
{
    /// <summary>log E[y_v] = α_s + β t + x_vᵀθ.</summary>
    Trend,

    /// <summary>log E[y_v] = α_s + γ_t + x_vᵀθ.</summary>
    Annual,
}

/// <summary>Whether an adjusted fit exists.</summary>
public enum AdjustedStatus
{
    /// <summary>A finite maximum.</summary>
    Finite,

    /// <summary>Nothing to fit: no unit has counts and visits in two periods, or the reference periods are silent or not comparable.</summary>
    None,

    /// <summary>The trend itself is minus infinity, see <see cref="Fits.SlopeStatus.MinusInfinity"/>.</summary>
    MinusInfinity,

    /// <summary>The trend itself is plus infinity.</summary>
    PlusInfinity,

    /// <summary>
    /// Some combination of covariates and periods tells the visits with counts from those without, within every unit: effects run away.
    /// </summary>
    Separated,

    /// <summary>The iteration did not settle; should not happen, and is reported instead of a number.</summary>
    NotConverged,
}
