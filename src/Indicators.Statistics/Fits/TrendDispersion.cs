using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>How far counts scatter about the trend model, set beside Poisson counts.</summary>
/// <param name="ChiSquare">Pearson's X² = Σ w (y − μ)²/μ over the cells, 0 upward.</param>
/// <param name="DegreesOfFreedom">Cells less one level a unit and one slope; 0 or less when nothing is left to judge by.</param>
/// <remarks>
/// X²/df is the usual estimate of the dispersion φ of Var(y) = φ μ (McCullagh and Nelder 1989, section 6.2.3): 1 for Poisson
/// counts. The mean is the trend's, so whatever moves calls away from the line counts, shared good and bad seasons too.
/// </remarks>
public readonly record struct TrendDispersion(double ChiSquare, int DegreesOfFreedom)
{
    /// <summary>φ = X²/df, or null without degrees of freedom.</summary>
    public double? Value => DegreesOfFreedom > 0 ? ChiSquare / DegreesOfFreedom : null;

    /// <summary>The dispersion about a finite slope; units without a count say nothing and are left out.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="slope">Its slope on the natural log scale.</param>
    public static TrendDispersion Of(PanelCounts panel, double slope)
    {
        double middle = (panel.Times[0] + panel.Times[^1]) / 2;
        double[] powers = [.. panel.Times.Select(t => Math.Exp(slope * (t - middle)))];
        double chiSquare = 0;
        int cells = 0, units = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            var counts = panel.Counts.AsSpan(s * panel.Stride, panel.Periods);
            var exposures = panel.Exposures.AsSpan(s * panel.Stride, panel.Periods);
            double total = 0, expected = 0, sum = 0;
            for (int t = 0; t < counts.Length; t++)
            {
                double y = counts[t], share = exposures[t] * powers[t];
                expected += share;
                if (y == 0)
                    continue;
                total += y;
                sum += y * y / share;
            }
            if (total == 0)
                continue;
            units++;
            cells += (int)UInt128.PopCount(panel.Surveyed[s]);
            // Σ (y − μ)²/μ = Σ y²/μ − Y, for the means add up to Y: most cells are silent and need no division.
            chiSquare += panel.Weights[s] * (sum * expected / total - total);
        }
        return new TrendDispersion(chiSquare, cells - units - 1);
    }
}
