namespace Indicators.Statistics.Smooth;

/// <summary>How the smoothing parameter is chosen.</summary>
public enum SmoothingCriterion
{
    /// <summary>
    /// Restricted maximum likelihood by Laplace's approximation, the curve's bends taken as random effects with a normal
    /// distribution (as in Wood 2011); the counts' dispersion is given, 1 for Poisson counts.
    /// </summary>
    RestrictedMaximumLikelihood,

    /// <summary>Generalised cross-validation, n D/(n − units − edf)² (Craven and Wahba 1979); needs no dispersion.</summary>
    GeneralisedCrossValidation,
}
