namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Multi-season occupancy with imperfect detection: occupied in the first season with probability ψ_1, then empty sites
/// become occupied at rate γ and occupied sites empty at rate ε from season to season.
/// </summary>
/// <remarks>
/// MacKenzie et al. 2003, "Estimating site occupancy, colonization, and local extinction when a species is detected
/// imperfectly". Within a season a site's state does not change. The likelihood is <see cref="OccupancyLikelihood"/>.
/// </remarks>
public static class MultiSeasonOccupancy
{
    /// <summary>Fits by maximum likelihood.</summary>
    /// <param name="histories">Histories of two seasons or more.</param>
    /// <param name="groups">Which intervals share rates.</param>
    public static OccupancyFit Fit(DetectionHistories histories, TransitionGroups groups)
    {
        if (histories.Seasons < 2) throw new ArgumentException("Two seasons or more.", nameof(histories));
        return OccupancyFitter.Fit(histories, groups);
    }

    /// <summary>
    /// The chance that each site is occupied after each season, given what was seen up to it, at the estimates: the forward
    /// probabilities. A season with a detection has 1.
    /// </summary>
    /// <param name="histories">Histories with as many seasons, slots and covariates as the fit; other sites are allowed.</param>
    /// <param name="fit">The fit.</param>
    /// <returns>Sites × seasons; null when the fit has no estimates.</returns>
    public static double[,]? ChancesPresent(DetectionHistories histories, OccupancyFit fit) =>
        fit.HasEstimates ? Average(histories, fit, 1, (_, into) => fit.Point.CopyTo(into)) : null;

    /// <summary>
    /// The same averaged over the uncertainty of the parameters. Averages are of draws and do not depend on threads.
    /// </summary>
    /// <param name="histories">Histories with as many seasons, slots and covariates as the fit; other sites are allowed.</param>
    /// <param name="draws">Draws from the fit's parameters.</param>
    /// <returns>Sites × seasons.</returns>
    public static double[,] ChancesPresent(DetectionHistories histories, ParameterDraws draws) =>
        Average(histories, draws.Fit, draws.Count, draws.Draw);

    private static double[,] Average(DetectionHistories histories, OccupancyFit fit, int count, DrawInto draw)
    {
        var likelihood = new OccupancyLikelihood(histories, fit.Groups);
        if (likelihood.Layout != fit.Layout) throw new ArgumentException("Histories and fit differ in slots or covariates.", nameof(histories));
        var point = new double[fit.Layout.Count];
        var one = new double[histories.Sites * histories.Seasons];
        var mean = new double[histories.Sites, histories.Seasons];
        for (int b = 0; b < count; b++)
        {
            draw(b, point);
            likelihood.FilterAll(point, one);
            for (int i = 0; i < one.Length; i++)
                mean[i / histories.Seasons, i % histories.Seasons] += one[i] / count;
        }
        return mean;
    }

    private delegate void DrawInto(int number, Span<double> parameters);
}
