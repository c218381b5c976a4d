using Indicators.Analysis.Power;
using Indicators.Statistics.Intervals;

namespace Indicators.Benchmarks.Coverage;

/// <summary>Other ways to stretch the underlying draws.</summary>
internal enum FreedomRule
{
    /// <summary>Satterthwaite's degrees of freedom alone.</summary>
    Satterthwaite,

    /// <summary>The harmonic mean of Satterthwaite's and the smaller of the two, weighted by the shocks' share of the variance.</summary>
    ByShare,

    /// <summary>As the engine does, springs taken to carry over from one to the next with correlation 0.2.</summary>
    Lag2,

    /// <summary>The same with 0.3.</summary>
    Lag3,

    /// <summary>Springs carried over with correlation 0.2, and Satterthwaite's degrees of freedom alone.</summary>
    Lag2Satterthwaite,
}

/// <summary>The underlying interval under other rules. Ends move with the factor about the estimate.</summary>
internal static class UnderlyingRules
{
    public static string NameOf(FreedomRule rule) => rule switch
    {
        FreedomRule.Satterthwaite => "underlying Satterthwaite",
        FreedomRule.ByShare => "underlying by share",
        FreedomRule.Lag2 => "underlying lag 0.2",
        FreedomRule.Lag3 => "underlying lag 0.3",
        _ => "underlying lag 0.2 Satterthwaite",
    };

    public static Interval? Of(PanelTrend trend, FreedomRule rule, double confidence)
    {
        if (trend.Underlying is not { } ends)
            return null;
        int byUnits = trend.Clusters - 1, bySeasons = trend.Panel.Periods - 2;
        var (units, shocks) = trend.Variances;
        double now = Quantile.OfStudentT(1 - (1 - confidence) / 2, Harmonic(Freedom(units, shocks, byUnits, bySeasons), Math.Min(byUnits, bySeasons), 0.5));
        double wider = rule switch
        {
            FreedomRule.Lag2 or FreedomRule.Lag2Satterthwaite => Inflation(trend.Panel.Periods, 0.2),
            FreedomRule.Lag3 => Inflation(trend.Panel.Periods, 0.3),
            _ => 1,
        };
        double satterthwaite = Freedom(units, wider * shocks, byUnits, bySeasons);
        double freedom = rule switch
        {
            FreedomRule.Satterthwaite or FreedomRule.Lag2Satterthwaite => satterthwaite,
            FreedomRule.ByShare => Harmonic(satterthwaite, Math.Min(byUnits, bySeasons), shocks / (units + shocks)),
            _ => Harmonic(satterthwaite, Math.Min(byUnits, bySeasons), 0.5),
        };
        double factor = Quantile.OfStudentT(1 - (1 - confidence) / 2, freedom) / now * Math.Sqrt((units + wider * shocks) / (units + shocks));
        double slope = trend.Slope.Value;
        return new Interval(slope + factor * (ends.Lower - slope), slope + factor * (ends.Upper - slope));
    }

    private static double Freedom(double units, double shocks, int byUnits, int bySeasons) => units + shocks == 0
        ? byUnits
        : (units + shocks) * (units + shocks) / (units * units / byUnits + shocks * shocks / bySeasons);

    private static double Harmonic(double one, double other, double weightOfOther) => 1 / ((1 - weightOfOther) / one + weightOfOther / other);

    /// <summary>
    /// How much more a slope over evenly weighted seasons varies, for the same spread of residuals about it, when shocks are
    /// correlated ρ^lag: (h′Rh / h′h) (tr M / tr MR), h the centred seasons, M what a straight line leaves.
    /// </summary>
    private static double Inflation(int seasons, double rho)
    {
        if (Known.TryGetValue((seasons, rho), out double known))
            return known;
        double middle = (seasons - 1) / 2.0, hh = 0, hrh = 0, trace = 0;
        for (int t = 0; t < seasons; t++)
            hh += (t - middle) * (t - middle);
        for (int t = 0; t < seasons; t++)
        {
            for (int u = 0; u < seasons; u++)
            {
                double r = Math.Pow(rho, Math.Abs(t - u));
                hrh += (t - middle) * r * (u - middle);
                trace += ((t == u ? 1 : 0) - 1.0 / seasons - (t - middle) * (u - middle) / hh) * r;
            }
        }
        return Known[(seasons, rho)] = hrh / hh * (seasons - 2) / trace;
    }

    private static readonly Dictionary<(int, double), double> Known = [];
}
