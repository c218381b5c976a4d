using Indicators.Statistics.Panels;
using MathNet.Numerics;

namespace Indicators.Statistics.Fits;

/// <summary>The conditional (fixed-effects) Poisson likelihood that both models maximise.</summary>
public static class ConditionalPoisson
{
    /// <summary>
    /// The log-likelihood of every unit's counts given its total, multinomial coefficient included; weights are not used.
    /// </summary>
    /// <param name="panel">The panel.</param>
    /// <param name="predictor">η_st, unit after unit, one value a period: p_st ∝ n_st e^{η_st}.</param>
    /// <returns>A natural log-likelihood; minus infinity when a count stands where p is 0.</returns>
    public static double LogLikelihood(PanelCounts panel, ReadOnlySpan<double> predictor)
    {
        if (predictor.Length != panel.Units * panel.Periods)
            throw new ArgumentException("One value a unit and period.", nameof(predictor));
        double sum = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            var eta = predictor.Slice(s * panel.Periods, panel.Periods);
            double total = 0, denominator = 0;
            for (int t = 0; t < panel.Periods; t++)
            {
                total += panel.Count(s, t);
                denominator += panel.Exposure(s, t) * Math.Exp(eta[t]);
            }
            sum += SpecialFunctions.GammaLn(total + 1);
            for (int t = 0; t < panel.Periods; t++)
            {
                double y = panel.Count(s, t);
                if (y > 0)
                    sum += y * (Math.Log(panel.Exposure(s, t) / denominator) + eta[t]) - SpecialFunctions.GammaLn(y + 1);
            }
        }
        return sum;
    }
}
