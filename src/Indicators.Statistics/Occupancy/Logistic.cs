namespace Indicators.Statistics.Occupancy;

/// <summary>The logistic function, exact at ±∞ and for small probabilities on either side.</summary>
internal static class Logistic
{
    /// <summary>1 / (1 + e^−x).</summary>
    public static double Of(double x) => 1 / (1 + Math.Exp(-x));

    /// <summary>ln(p / (1 − p)); ±∞ at the ends.</summary>
    public static double Logit(double p) => Math.Log(p / (1 - p));
}
