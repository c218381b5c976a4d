namespace Indicators.Analysis.Results;

/// <summary>Slopes and changes on the log scale as people are told of them.</summary>
internal static class LogSlope
{
    /// <summary>100 (e^x − 1): percent, −100 upward.</summary>
    public static double Percent(double log) => 100 * double.ExpM1(log);

    /// <summary>The same, or null when it is not finite.</summary>
    public static double? Finite(double log) => double.IsFinite(log) ? Percent(log) : null;
}
