namespace Indicators.Statistics.Smooth;

/// <summary>Where a curve's first derivative has its extremes.</summary>
/// <param name="FallTime">When f′ is least; between knots as it comes.</param>
/// <param name="Fall">f′ there, per season, log scale; positive when the curve never falls.</param>
/// <param name="RiseTime">When f′ is greatest.</param>
/// <param name="Rise">f′ there; negative when the curve never rises.</param>
public readonly record struct SteepestPoints(double FallTime, double Fall, double RiseTime, double Rise)
{
    /// <summary>Slopes that differ by less than this, per season, are one slope: the curve is a straight line.</summary>
    public const double StraightBelow = 1e-6;

    /// <summary>Whether the curve is straight, so that no time is steeper than another.</summary>
    public bool IsStraight => Rise - Fall < StraightBelow;
}
