namespace Indicators.Statistics.Pooling;

/// <summary>How the variance between units, τ², is estimated.</summary>
public enum BetweenVarianceMethod
{
    /// <summary>Moments of Cochran's Q at the fixed-effect weights (DerSimonian and Laird 1986).</summary>
    DerSimonianLaird,

    /// <summary>Restricted maximum likelihood.</summary>
    RestrictedMaximumLikelihood,

    /// <summary>The τ² at which the generalised Q equals its expectation, k − 1 (Paule and Mandel 1982).</summary>
    PauleMandel,

    /// <summary>Maximum likelihood, biased low for few units.</summary>
    MaximumLikelihood,

    /// <summary>Moments of the unweighted variance of the estimates (Hedges 1983).</summary>
    Hedges,
}
