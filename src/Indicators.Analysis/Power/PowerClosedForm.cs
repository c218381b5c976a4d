using Indicators.Analysis.Options;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Power;

/// <summary>The slope that a plan of listening would come to on average, and how it would vary.</summary>
/// <param name="Mean">The slope of expected calling, natural log; nearer to 0 than the slope beneath where the scale has a ceiling.</param>
/// <param name="BetweenWetlands">Its variance because wetlands, their seasons and their surveys differ.</param>
/// <param name="BySprings">Its variance because of springs that all wetlands share.</param>
public readonly record struct SlopeOutlook(double Mean, double BetweenWetlands, double BySprings);

/// <summary>
/// The chance of the right word worked out instead of simulated: the slope's variance from information, dispersion and
/// shocks, and a t test with the degrees of freedom of the engine's own interval.
/// </summary>
/// <remarks>
/// A survey at mean m hears something with chance min(1, m/R₁) and then has moments R₁, R₂ (first and second, given that it
/// hears something): mean μ = min(m, R₁), variance v = μ R₂/R₁ − μ². With m = m̄ e^{level + cell + β (t − t̄)}, E over levels and
/// cells, μ̄_t = E μ, p_t ∝ μ̄_t, d_t = t − Σ p_u u, μ′ = μ below the ceiling and 0 at it, K wetlands, V surveys a season,
/// I = V Σ μ̄_t d_t²:
/// <c>var₁ = {V Σ E v d_t² + V² Σ E var_cell(μ) d_t² + σ_slope² E (V Σ μ′ d_t²)²} / (K I²)</c>,
/// <c>var₂ = σ_season² Σ (V E μ′_t d_t)² / I²</c>, power = Φ((|β̄| − t √(var₁ + w var₂))/√(var₁ + var₂)), w from <see cref="SeasonCarryOver.Widening"/>. How uncertain the variances are enters
/// only through t, so it is a check, not the answer. The delta method throughout; no outside source for the formula as a whole.
/// </remarks>
public static class PowerClosedForm
{
    private static readonly double[] Levels = NormalNodes.Of(41), Cells = NormalNodes.Of(11);

    /// <summary>The outlook of a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="slope">β beneath it all, natural log, per season.</param>
    public static SlopeOutlook Outlook(ListeningPlan plan, CallingSpread spread, double slope)
    {
        int seasons = plan.Seasons;
        double middle = (seasons - 1) / 2.0, ceiling = spread.MeanWhenHeard;
        // By level and season: mean, mean below the ceiling, variance of a survey, variance between cells.
        double[,] mean = new double[Levels.Length, seasons], free = new double[Levels.Length, seasons];
        double[] course = new double[seasons], freeCourse = new double[seasons], surveys = new double[seasons], cells = new double[seasons];
        for (int i = 0; i < Levels.Length; i++)
        {
            double level = Math.Log(spread.Mean) + spread.LevelSd * Levels[i] - spread.LevelSd * spread.LevelSd / 2;
            for (int t = 0; t < seasons; t++)
            {
                double first = 0, second = 0, below = 0, variance = 0;
                foreach (double z in Cells)
                {
                    double m = Math.Exp(level + spread.CellSd * z - spread.CellSd * spread.CellSd / 2 + slope * (t - middle));
                    double mu = Math.Min(m, ceiling);
                    first += mu / Cells.Length;
                    second += mu * mu / Cells.Length;
                    below += (m < ceiling ? mu : 0) / Cells.Length;
                    variance += (mu * spread.SpreadWhenHeard - mu * mu) / Cells.Length;
                }
                (mean[i, t], free[i, t]) = (first, below);
                course[t] += first / Levels.Length;
                freeCourse[t] += below / Levels.Length;
                surveys[t] += variance / Levels.Length;
                cells[t] += (second - first * first) / Levels.Length;
            }
        }

        double centre = Enumerable.Range(0, seasons).Sum(t => course[t] * t) / course.Sum();
        double information = 0, score = 0, springs = 0;
        for (int t = 0; t < seasons; t++)
        {
            double d = t - centre;
            information += plan.Visits * course[t] * d * d;
            score += (plan.Visits * surveys[t] + plan.Visits * plan.Visits * cells[t]) * d * d;
            springs += Square(plan.Visits * freeCourse[t] * d);
        }
        for (int i = 0; i < Levels.Length; i++)
            score += Square(spread.SlopeSd * plan.Visits * Enumerable.Range(0, seasons).Sum(t => free[i, t] * Square(t - centre))) / Levels.Length;
        var population = new PanelCounts([.. Enumerable.Range(0, seasons).Select(t => (double)t)], course, [.. course.Select(_ => 1.0)]);
        return new SlopeOutlook(
            TrendFit.Of(population).Value,
            score / (plan.Wetlands * information * information),
            spread.SeasonSd * spread.SeasonSd * springs / (information * information));
    }

    /// <summary>The chance of the right word, 0 to 1; 0 where the engine gives no interval.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="slope">β beneath it all, natural log, per season.</param>
    /// <param name="options">The smallest samples and the confidence.</param>
    public static double RightWord(ListeningPlan plan, CallingSpread spread, double slope, TrendOptions options)
    {
        if (plan.Wetlands < options.MinimumClusters || plan.Seasons < options.MinimumSeasons)
            return 0;
        var outlook = Outlook(plan, spread, slope);
        double t = Quantile.OfStudentT(
            1 - (1 - options.Confidence) / 2,
            UnderlyingSlopes.DegreesOfFreedom(outlook.BetweenWetlands, outlook.BySprings, plan.Wetlands, plan.Seasons));
        // The engine reckons with springs that carry over; the plan's own do not.
        double reckoned = outlook.BetweenWetlands + outlook.BySprings * SeasonCarryOver.Widening(plan.Seasons);
        return Quantile.NormalCdf((Math.Abs(outlook.Mean) - t * Math.Sqrt(reckoned)) / Math.Sqrt(outlook.BetweenWetlands + outlook.BySprings));
    }

    private static double Square(double x) => x * x;
}
