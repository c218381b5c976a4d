using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Occupancy;

/// <summary>An estimated probability.</summary>
/// <param name="Value">The estimate, 0 to 1.</param>
/// <param name="StandardError">On the probability scale, by the delta method; null where a parameter it needs is at the boundary.</param>
/// <param name="Interval">Wald on the logit scale, turned back; null in the same case.</param>
public readonly record struct ProbabilityEstimate(double Value, double? StandardError, Interval? Interval)
{
    /// <summary>From a probability and its standard error on the probability scale.</summary>
    internal static ProbabilityEstimate FromStandardError(double value, double error, double confidence)
    {
        double onLogit = error / (value * (1 - value));
        if (!double.IsFinite(onLogit))
            return new ProbabilityEstimate(value, null, null);
        double half = Quantile.OfNormal(1 - (1 - confidence) / 2) * onLogit, centre = Logistic.Logit(value);
        return new ProbabilityEstimate(value, error, new Interval(Logistic.Of(centre - half), Logistic.Of(centre + half)));
    }
}
