using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Intervals of ψ_t, season by season, that also exist where a rate stands at 0 or 1 and a Wald interval does not.
/// </summary>
/// <remarks>
/// With all rates inside their bounds: <see cref="OccupancyFit.Occupancy"/>, Wald on the logit. Else two kinds of room are put
/// together. Parameters inside their bounds give ±h, the delta method with the others held. Each one at a bound can only leave
/// it; where its profile likelihood has fallen by half a chi-square quantile, the others moved along, ψ_t lies d away. Those
/// directions are conjugate to the first where the log-likelihood is quadratic, so lengths add as squares, each on its own
/// side: √(h² + Σd²). On the logit of ψ_t; on −ln ψ_t, or −ln(1 − ψ_t), where ψ_t itself is 1 or 0. The putting together is
/// ours; docs/occupancy.md says how often these intervals hold.
/// </remarks>
public sealed class CourseIntervals
{
    private readonly OccupancyFit _fit;
    private readonly Interval?[] _seasons;
    private readonly double[]?[] _farthest;

    private CourseIntervals(OccupancyFit fit, Interval?[] seasons, double[]?[] farthest) => (_fit, _seasons, _farthest) = (fit, seasons, farthest);

    /// <summary>The interval of ψ of a season, on the probability scale; null where there is none.</summary>
    public Interval? this[int season] => _seasons[season];

    /// <summary>
    /// The likelihood-ratio interval of a probability that stands at 0 or 1, by the place of its parameter: from there to as
    /// far as it may be.
    /// </summary>
    /// <returns>Null for a parameter that is not at a bound, that ψ does not need, or whose likelihood never falls far enough.</returns>
    public Interval? AtBoundary(int place) => _farthest[place] is not { } point
        ? null
        : double.IsNegativeInfinity(_fit.Point[place]) ? new Interval(0, Logistic.Of(point[place])) : new Interval(Logistic.Of(point[place]), 1);

    /// <summary>Works out every season's interval.</summary>
    /// <param name="histories">The histories that were fitted, without covariates of initial occupancy.</param>
    /// <param name="fit">Their fit.</param>
    /// <param name="confidence">0 to 1.</param>
    public static CourseIntervals Of(DetectionHistories histories, OccupancyFit fit, double confidence)
    {
        if (histories.SiteCovariates > 0) throw new ArgumentException("Without covariates of initial occupancy.", nameof(histories));
        var (seasons, farthest) = (new Interval?[fit.Groups.Seasons], new double[]?[fit.Layout.Count]);
        if (!fit.HasEstimates)
            return new CourseIntervals(fit, seasons, farthest);
        var looked = new bool[fit.Layout.Count];
        double z = Quantile.OfNormal(1 - (1 - confidence) / 2);
        for (int t = 0; t < seasons.Length; t++)
        {
            var (psi, gradient, needed) = fit.Course(t);
            int[] bound = [.. Enumerable.Range(0, needed.Length).Where(j => needed[j] && fit.Parameters[j].Status is EstimateStatus.AtZero or EstimateStatus.AtOne)];
            if (bound.Length == 0)
            {
                seasons[t] = fit.Occupancy(t, confidence)?.Interval;
                continue;
            }
            foreach (int place in bound)
            {
                if (!looked[place])
                    farthest[place] = ProfileInterval.FarthestFromBoundary(histories, fit, place, confidence);
                looked[place] = true;
            }
            if (Array.TrueForAll(bound, place => farthest[place] is not null))
                seasons[t] = Together(psi, z * Math.Sqrt(fit.Variance(gradient)), [.. bound.Select(place => PsiAt(farthest[place]!, fit, t))]);
        }
        return new CourseIntervals(fit, seasons, farthest);
    }

    private static Interval Together(double psi, double half, double[] moved)
    {
        if (psi >= 1)
            return new Interval(Math.Exp(-Math.Sqrt(moved.Sum(m => Square(Math.Log(m))))), 1);
        if (psi <= 0)
            return new Interval(0, 1 - Math.Exp(-Math.Sqrt(moved.Sum(m => Square(Math.Log(1 - m))))));
        double centre = Logistic.Logit(psi), onLogit = half / (psi * (1 - psi));
        double below = onLogit * onLogit, above = below;
        foreach (double m in moved)
        {
            double d = Logistic.Logit(m) - centre;
            if (d < 0)
                below += d * d;
            else
                above += d * d;
        }
        return new Interval(Logistic.Of(centre - Math.Sqrt(below)), Logistic.Of(centre + Math.Sqrt(above)));
    }

    private static double PsiAt(double[] point, OccupancyFit fit, int season)
    {
        double psi = Logistic.Of(point[0]);
        for (int t = 0; t < season; t++)
            psi = psi * Logistic.Of(-point[fit.Layout.FirstExtinction + fit.Groups.Extinction[t]])
                + (1 - psi) * Logistic.Of(point[fit.Layout.FirstColonisation + fit.Groups.Colonisation[t]]);
        return psi;
    }

    private static double Square(double x) => x * x;
}
