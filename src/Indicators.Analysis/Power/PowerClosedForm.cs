using Indicators.Statistics.Intervals;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Power;

/// <summary>
/// The chance of the right word worked out instead of simulated: the slope's variance from information, dispersion and
/// shocks, and a t test with the degrees of freedom of the engine's own interval.
/// </summary>
/// <remarks>
/// For K wetlands with V surveys in each of T seasons, mean m, e_t = e^{β d_t}, d_t = t − Σ e_u u / Σ e_u, D = Σ e_t d_t²,
/// M₂ = m² e^{σ_level² + σ_cell²} and R the spread of a survey that hears something:
/// <c>var₁ = [V Σ (m R e_t − M₂ e_t²) d_t² + V² (M₂ − m² e^{σ_level²}) Σ e_t² d_t² + V² m² e^{σ_level²} σ_slope² D²] / (K (V m D)²)</c>,
/// <c>var₂ = σ_season² Σ e_t² d_t² / D²</c>, power = Φ(|β|/√(var₁ + var₂) − t). It leaves out the scale's ceiling and how
/// uncertain the variances are but for t, so it is a check, not the answer.
/// </remarks>
public static class PowerClosedForm
{
    /// <summary>The variances of the slope between wetlands and by shared springs.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="slope">β, natural log, per season.</param>
    public static (double Wetlands, double Springs) Variances(ListeningPlan plan, CallingSpread spread, double slope)
    {
        double middle = (plan.Seasons - 1) / 2.0;
        double[] e = [.. Enumerable.Range(0, plan.Seasons).Select(t => Math.Exp(slope * (t - middle)))];
        double mean = Enumerable.Range(0, plan.Seasons).Sum(t => e[t] * t) / e.Sum();
        double once = 0, twice = 0;
        for (int t = 0; t < plan.Seasons; t++)
        {
            double d = t - mean;
            once += e[t] * d * d;
            twice += e[t] * e[t] * d * d;
        }
        double levels = spread.Mean * spread.Mean * Math.Exp(spread.LevelSd * spread.LevelSd);
        double cells = levels * Math.Exp(spread.CellSd * spread.CellSd);
        double bySurveys = plan.Visits * (spread.Mean * spread.SpreadWhenHeard * once - cells * twice);
        double byCells = plan.Visits * plan.Visits * (cells - levels) * twice;
        double bySlopes = plan.Visits * plan.Visits * levels * spread.SlopeSd * spread.SlopeSd * once * once;
        double information = plan.Visits * spread.Mean * once;
        return (
            (Math.Max(0, bySurveys) + byCells + bySlopes) / (plan.Wetlands * information * information),
            spread.SeasonSd * spread.SeasonSd * twice / (once * once));
    }

    /// <summary>The chance of the right word, 0 to 1; 0 where the engine gives no interval.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="spread">How calling varies.</param>
    /// <param name="slope">β, natural log, per season.</param>
    /// <param name="options">The smallest samples and the confidence.</param>
    public static double RightWord(ListeningPlan plan, CallingSpread spread, double slope, Options.TrendOptions options)
    {
        if (plan.Wetlands < options.MinimumClusters || plan.Seasons < options.MinimumSeasons)
            return 0;
        var (wetlands, springs) = Variances(plan, spread, slope);
        double t = Quantile.OfStudentT(
            1 - (1 - options.Confidence) / 2, UnderlyingSlopes.DegreesOfFreedom(wetlands, springs, plan.Wetlands, plan.Seasons));
        return Quantile.NormalCdf(Math.Abs(slope) / Math.Sqrt(wetlands + springs) - t);
    }
}
