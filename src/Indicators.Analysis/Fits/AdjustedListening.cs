using Indicators.Statistics.Adjusted;

namespace Indicators.Analysis.Fits;

/// <summary>What an adjusted fit rests on, when its visits themselves are gone.</summary>
internal sealed class AdjustedListening(VisitPanel visits)
{
    private readonly bool[] _varies = [.. Enumerable.Range(0, visits.Covariates.Count).Select(visits.Varies)];

    /// <summary>How many visits there were.</summary>
    public int Visits { get; } = visits.Visits;

    /// <summary>How each covariate was standardised, and how many visits lack it.</summary>
    public IReadOnlyList<Covariate> Covariates { get; } = visits.Covariates;

    /// <summary>Whether a covariate differs between the visits that inform the fit.</summary>
    public bool Varies(int covariate) => _varies[covariate];
}
