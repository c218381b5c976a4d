using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Pooling;

/// <summary>One unit's value after it borrowed strength from the others.</summary>
/// <param name="Value">The mean of the unit's distribution, τ² averaged over.</param>
/// <param name="StandardError">Its standard deviation, with the uncertainty of the mean and of τ².</param>
/// <param name="Interval">The quantiles that leave equal shares outside.</param>
/// <param name="OwnShare">
/// How much of a change in the unit's own estimate its value follows, averaged over τ²: near 1 it stands on its own data,
/// near 0 on the others'.
/// </param>
public readonly record struct ShrunkenEstimate(double Value, double StandardError, Interval Interval, double OwnShare);

/// <summary>A unit's value and standard error at one given τ²: the best linear unbiased predictor.</summary>
/// <param name="Value">θ̃_i = y_i shrunk toward the mean at this τ².</param>
/// <param name="StandardError">With the uncertainty of the mean, without that of τ².</param>
/// <param name="OwnShare">How much of a change in the unit's own estimate its value follows, 0 to 1.</param>
public readonly record struct LinearPredictor(double Value, double StandardError, double OwnShare);
