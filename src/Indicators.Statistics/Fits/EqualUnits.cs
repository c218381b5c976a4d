using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>The trend in which every unit counts alike, however large its counts are.</summary>
/// <remarks>
/// The trend weighs a unit by its total, for a unit's own slope is the better known the more it counts. Here each unit's
/// weight is divided by its total, so that only how it shares its counts among the periods matters. When units go the same way, both say
/// the same but for noise; when those with large counts go another way than those with small ones, they do not.
/// </remarks>
public static class EqualUnits
{
    /// <summary>The slope; its information is that of the weighted sums and of no use as a variance.</summary>
    /// <param name="panel">Counts. Units without a count say nothing and are left out.</param>
    public static Slope Slope(PanelCounts panel)
    {
        int periods = panel.Periods;
        int[] units = [.. Enumerable.Range(0, panel.Units).Where(s => Total(s) > 0)];
        if (units.Length == 0)
            return new Slope(SlopeStatus.None, double.NaN, 0, 0);
        double[] counts = new double[units.Length * periods], exposures = new double[counts.Length];
        for (int i = 0; i < counts.Length; i++)
            (counts[i], exposures[i]) = (panel.Count(units[i / periods], i % periods), panel.Exposure(units[i / periods], i % periods));
        return TrendFit.Of(new PanelCounts(panel.Times, counts, exposures, [.. units.Select(s => panel.WeightOf(s) / Total(s))]));

        double Total(int unit)
        {
            double sum = 0;
            for (int t = 0; t < periods; t++)
                sum += panel.Count(unit, t);
            return sum;
        }
    }
}
