namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Single-season occupancy with imperfect detection: a site is occupied with probability ψ, a visit to an occupied site
/// detects with probability p.
/// </summary>
/// <remarks>
/// MacKenzie et al. 2002, "Estimating site occupancy rates when detection probabilities are less than one".
/// logit ψ = α + site covariates, logit p = an intercept for each slot + visit covariates. With one slot, no covariates, n sites and
/// K visits to each, the maximum is the root of K p / (1 − (1 − p)^K) = mean detections at the sites with any, and
/// ψ = their share / (1 − (1 − p)^K) where that is below 1; else ψ = 1.
/// </remarks>
public static class SingleSeasonOccupancy
{
    /// <summary>Fits by maximum likelihood. Occupancy is <see cref="OccupancyFit.Occupancy"/> of season 0.</summary>
    /// <param name="histories">Histories of one season.</param>
    public static OccupancyFit Fit(DetectionHistories histories)
    {
        if (histories.Seasons != 1) throw new ArgumentException("One season.", nameof(histories));
        return OccupancyFitter.Fit(histories, TransitionGroups.None);
    }
}
