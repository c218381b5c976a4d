using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Analysis.Power;

/// <summary>
/// Estimates how calling varies from a programme's own counts, by moments about the trend that the engine fits.
/// </summary>
/// <remarks>
/// With fitted μ_st, d_st and the information I_c of cluster c as in the trend fit, and v(m) the variance of one survey of
/// mean m, residuals and cluster scores S_c have to first order
/// <c>Σ (y − μ)² T_s/(T_s − 1) = Σ n v(μ/n) + (σ_cell² + σ_season²) Σ q + σ_slope² Σ q d²</c> and
/// <c>Σ S_c² K/(K − 1) = Σ n v(μ/n) d² + σ_cell² Σ q d² + σ_slope² Σ I_c²</c>, q = μ² (1 − 1/n);
/// season shocks do not enter the second, for the slope takes up what they have in common. Two equations, two unknowns; a
/// negative solution is set to 0 and the other solved again. With one survey a cell, cells' spread is part of surveys'.
/// The moments are ours; their recovery of known values is tested.
/// </remarks>
internal static class SpreadFit
{
    /// <summary>Estimates the spread.</summary>
    /// <param name="panel">Counts of stations that ever heard the species, clusters being wetlands.</param>
    /// <param name="slope">Their finite slope.</param>
    /// <param name="seasonSd">The engine's estimate of the shared springs.</param>
    /// <param name="whenHeard">Values and shares of responses above 0.</param>
    public static CallingSpread Of(PanelCounts panel, double slope, double seasonSd, IReadOnlyList<(double Value, double Share)> whenHeard)
    {
        double calls = 0, surveys = 0;
        var callsOf = new double[panel.ClusterCount];
        var surveysOf = new double[panel.ClusterCount];
        for (int s = 0; s < panel.Units; s++)
        {
            for (int t = 0; t < panel.Periods; t++)
            {
                callsOf[panel.ClusterOf(s)] += panel.Count(s, t);
                surveysOf[panel.ClusterOf(s)] += panel.Exposure(s, t);
                calls += panel.Count(s, t);
                surveys += panel.Exposure(s, t);
            }
        }
        var spread = new CallingSpread { Mean = calls / surveys, WhenHeard = whenHeard, SeasonSd = seasonSd };
        var (cell, slopes) = Variances(panel, slope, spread);
        return spread with
        {
            CellSd = Math.Sqrt(cell),
            SlopeSd = Math.Sqrt(slopes),
            LevelSd = LevelSd(callsOf, surveysOf, spread),
        };
    }

    /// <summary>Log-scale spread of wetlands' means, less what surveys alone make of them.</summary>
    private static double LevelSd(double[] calls, double[] surveys, CallingSpread spread)
    {
        int[] present = [.. Enumerable.Range(0, calls.Length).Where(c => surveys[c] > 0)];
        if (present.Length < 2)
            return 0;
        double mean = present.Average(c => calls[c] / surveys[c]);
        double between = present.Sum(c => Square(calls[c] / surveys[c] - mean)) / (present.Length - 1);
        double chance = present.Average(c => VarianceOfSurvey(calls[c] / surveys[c], spread) / surveys[c]);
        return Math.Sqrt(Math.Log(1 + Math.Max(0, between - chance) / (mean * mean)));
    }

    private static (double Cell, double Slopes) Variances(PanelCounts panel, double slope, CallingSpread spread)
    {
        double middle = (panel.Times[0] + panel.Times[^1]) / 2;
        var score = new double[panel.ClusterCount];
        var information = new double[panel.ClusterCount];
        var informs = new bool[panel.ClusterCount];
        double residual = 0, visits = 0, squares = 0, leaning = 0, visitsLeaning = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            int[] seasons = [.. Enumerable.Range(0, panel.Periods).Where(t => panel.Exposure(s, t) > 0)];
            double total = seasons.Sum(t => panel.Count(s, t));
            if (seasons.Length < 2 || total == 0)
                continue;
            double sum = seasons.Sum(t => Power(t)), mean = seasons.Sum(t => Power(t) * panel.Times[t]) / sum;
            int cluster = panel.ClusterOf(s);
            informs[cluster] = true;
            // The square of an estimated mean is too large by the mean's own variance.
            double surveys = seasons.Sum(t => panel.Exposure(s, t)), squared = Square(total / surveys);
            double excess = Math.Min(1, VarianceOfSurvey(total / surveys, spread) / (surveys * squared));
            foreach (int t in seasons)
            {
                double n = panel.Exposure(s, t), mu = total * Power(t) / sum, d = panel.Times[t] - mean, off = panel.Count(s, t) - mu;
                double variance = n * (VarianceOfSurvey(mu / n, spread) + Square(mu / n) * excess);
                residual += off * off * seasons.Length / (seasons.Length - 1);
                visits += variance;
                // What moves a whole cell moves single surveys too, and those it makes less spread: n² becomes n (n − 1).
                squares += mu * mu * (1 - 1 / n);
                leaning += mu * mu * (1 - 1 / n) * d * d;
                visitsLeaning += variance * d * d;
                score[cluster] += off * d;
                information[cluster] += mu * d * d;
            }

            double Power(int t) => panel.Exposure(s, t) * Math.Exp(slope * (panel.Times[t] - middle));
        }
        int clusters = informs.Count(i => i);
        double scores = score.Sum(Square) * clusters / (clusters - 1.0), byInformation = information.Sum(Square);

        if (squares == 0)
            return (0, Math.Max(0, (scores - visitsLeaning) / byInformation));
        double left = residual - visits - spread.SeasonSd * spread.SeasonSd * squares, right = scores - visitsLeaning;
        double determinant = squares * byInformation - leaning * leaning;
        double cell = (left * byInformation - right * leaning) / determinant, slopes = (squares * right - leaning * left) / determinant;
        if (slopes < 0 || !double.IsFinite(slopes))
            return (Math.Max(0, left / squares), 0);
        return cell < 0 ? (0, Math.Max(0, right / byInformation)) : (cell, slopes);
    }

    private static double VarianceOfSurvey(double mean, CallingSpread spread) =>
        Math.Max(0, mean * spread.SpreadWhenHeard - mean * mean);

    private static double Square(double x) => x * x;
}
