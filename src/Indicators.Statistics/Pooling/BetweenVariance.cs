namespace Indicators.Statistics.Pooling;

/// <summary>The variance between units beyond what their own uncertainty explains.</summary>
/// <param name="Method">How it was estimated.</param>
/// <param name="Value">τ², in squared units of the estimates, 0 or more.</param>
/// <param name="StandardError">
/// The standard error from the expected information, for the two likelihood methods; null for the others.
/// </param>
/// <param name="Converged">Whether the root was found; the moment methods need none.</param>
public readonly record struct BetweenVariance(BetweenVarianceMethod Method, double Value, double? StandardError, bool Converged);
