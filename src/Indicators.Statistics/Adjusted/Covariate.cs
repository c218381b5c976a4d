namespace Indicators.Statistics.Adjusted;

/// <summary>How a covariate was put on the common scale.</summary>
/// <param name="Mean">The mean of its known values over all visits, in the covariate's own unit.</param>
/// <param name="StandardDeviation">
/// Their standard deviation, with the number of values below the line; 0 when it does not vary. An effect per standard deviation
/// divided by this is the effect per unit.
/// </param>
/// <param name="Missing">How many visits had no value and were given the mean.</param>
public readonly record struct Covariate(double Mean, double StandardDeviation, int Missing);
