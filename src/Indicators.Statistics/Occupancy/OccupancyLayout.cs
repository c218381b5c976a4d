namespace Indicators.Statistics.Occupancy;

/// <summary>What a parameter of an occupancy model is.</summary>
public enum OccupancyParameterKind
{
    /// <summary>Logit of occupancy in the first season where all site covariates are 0.</summary>
    Initial,

    /// <summary>Effect of a site covariate on the logit of occupancy in the first season.</summary>
    InitialEffect,

    /// <summary>Logit of the rate at which empty sites become occupied from one season to the next.</summary>
    Colonisation,

    /// <summary>Logit of the rate at which occupied sites become empty from one season to the next.</summary>
    Extinction,

    /// <summary>Logit of a slot's detection probability where all visit covariates are 0.</summary>
    Detection,

    /// <summary>Effect of a visit covariate on the logit of detection.</summary>
    DetectionEffect,
}

/// <summary>The order of an occupancy model's parameters, kind after kind as <see cref="OccupancyParameterKind"/> lists them.</summary>
/// <param name="SiteCovariates">Covariates of initial occupancy.</param>
/// <param name="Colonisations">Colonisation rates.</param>
/// <param name="Extinctions">Extinction rates.</param>
/// <param name="Slots">Detection intercepts.</param>
/// <param name="VisitCovariates">Covariates of detection.</param>
public readonly record struct OccupancyLayout(int SiteCovariates, int Colonisations, int Extinctions, int Slots, int VisitCovariates)
{
    /// <summary>How many parameters there are.</summary>
    public int Count => FirstDetectionEffect + VisitCovariates;

    /// <summary>The place of the first colonisation rate.</summary>
    public int FirstColonisation => 1 + SiteCovariates;

    /// <summary>The place of the first extinction rate.</summary>
    public int FirstExtinction => FirstColonisation + Colonisations;

    /// <summary>The place of the first detection intercept.</summary>
    public int FirstDetection => FirstExtinction + Extinctions;

    /// <summary>The place of the first effect on detection.</summary>
    public int FirstDetectionEffect => FirstDetection + Slots;

    /// <summary>What the parameter at a place is.</summary>
    public OccupancyParameterKind KindOf(int place) =>
        place == 0 ? OccupancyParameterKind.Initial
        : place < FirstColonisation ? OccupancyParameterKind.InitialEffect
        : place < FirstExtinction ? OccupancyParameterKind.Colonisation
        : place < FirstDetection ? OccupancyParameterKind.Extinction
        : place < FirstDetectionEffect ? OccupancyParameterKind.Detection
        : OccupancyParameterKind.DetectionEffect;

    /// <summary>
    /// Whether the parameter alone decides a probability, which is 0 or 1 when it is −∞ or +∞: all but effects, and the
    /// initial logit only when it has no effects beside it.
    /// </summary>
    internal bool DecidesProbability(int place) => KindOf(place) switch
    {
        OccupancyParameterKind.Initial => SiteCovariates == 0,
        OccupancyParameterKind.InitialEffect or OccupancyParameterKind.DetectionEffect => false,
        _ => true,
    };
}
