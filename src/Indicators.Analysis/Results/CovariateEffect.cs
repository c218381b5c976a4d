using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>What differs between visits and goes into the adjusted model, in the order it goes in.</summary>
public enum VisitCovariate
{
    /// <summary>Day of the season: days since the last day of December before it. Unit: day.</summary>
    Day,

    /// <summary>The square of the day less the mean day. Unit: day².</summary>
    DaySquared,

    /// <summary>Air temperature. Unit: °C.</summary>
    AirTemp,

    /// <summary>The square of the air temperature less its mean. Unit: °C².</summary>
    AirTempSquared,

    /// <summary>Wind force on the Beaufort scale. Unit: one step of it.</summary>
    Wind,

    /// <summary>Minutes from the evening's sunset at the station to the start. Unit: minute.</summary>
    MinutesAfterSunset,

    /// <summary>Noise on the protocol's own scale where it is a number. Unit: one step of it.</summary>
    Noise,

    /// <summary>1 in the observer's first year with the programme, else 0.</summary>
    FirstSeason,
}

/// <summary>Whether a covariate's effect could be estimated, or why not.</summary>
public enum EffectStatus
{
    /// <summary>It was.</summary>
    Estimated,

    /// <summary>Nobody ever wrote it down.</summary>
    NotRecorded,

    /// <summary>It was the same on every visit where it was written down.</summary>
    NotVarying,

    /// <summary>Within stations it varies only as the season and the covariates before it do.</summary>
    NotSeparable,
}

/// <summary>What one covariate does to expected calling in the adjusted trend of one species in one area.</summary>
/// <remarks>
/// From log E[y_v] = station effect + β t + Σ_j θ_j (x_vj − mean_j)/sd_j over visits v. A missing value counts as the mean. An effect
/// says how calling that was heard differs between visits, not why.
/// </remarks>
public sealed record CovariateEffect
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The covariate.</summary>
    public required VisitCovariate Covariate { get; init; }

    /// <summary>Whether its effect could be estimated.</summary>
    public required EffectStatus Status { get; init; }

    /// <summary>θ: the change of log expected calling for one standard deviation more; null when not estimated.</summary>
    public double? Effect { get; init; }

    /// <summary>Lower end of its interval, wetlands resampled, over just these seasons; null when there is none.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? Upper { get; init; }

    /// <summary>100 (e^{θ/sd} − 1): the change of expected calling in percent for one unit more, −100 upward.</summary>
    public double? PercentPerUnit { get; init; }

    /// <summary>The lower end in percent per unit.</summary>
    public double? PercentLower { get; init; }

    /// <summary>The upper end in percent per unit.</summary>
    public double? PercentUpper { get; init; }

    /// <summary>The mean of the values written down on all accepted surveys of the programme, in the covariate's unit; null when nobody did.</summary>
    public double? Mean { get; init; }

    /// <summary>Their standard deviation, the number of values below the line; null when nothing is known.</summary>
    public double? Sd { get; init; }

    /// <summary>Visits without a value, given the mean. Null for a protected species: such counts could tell which stations they are.</summary>
    public int? Missing { get; init; }

    /// <summary>All visits of the fit; null with <see cref="Missing"/>.</summary>
    public int? Surveys { get; init; }
}
