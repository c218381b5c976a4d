namespace Indicators.Statistics.Groups;

/// <summary>What several series can be at most when none of them was encountered.</summary>
/// <remarks>
/// Where E_j encounters are to be expected of series j at level 1, levels x_j leave every one silent with chance e^(−Σ x_j E_j), encounters being
/// Poisson. Levels with Σ x_j E_j ≤ −ln(1 − c) are not refused at confidence c. Of all of them x_j = −ln(1 − c) / (m E_j) have the largest product, m
/// being the number of silent series. For a single one and c = 0.95 this is the rule of three (Hanley and Lippman-Hand 1983); sharing it is ours.
/// </remarks>
public static class JointSilence
{
    /// <summary>The levels with the largest geometric mean that this silence leaves open.</summary>
    /// <param name="expected">E_j of every silent series, each above 0.</param>
    /// <param name="confidence">c, between 0 and 1; one-sided, for silence says nothing of the other end.</param>
    /// <returns>x_j, one a series, above 0; they may be above 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The confidence is not between 0 and 1, or something expected is not above 0.</exception>
    public static double[] Levels(ReadOnlySpan<double> expected, double confidence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(confidence, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        var levels = new double[expected.Length];
        for (int j = 0; j < levels.Length; j++)
        {
            ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(expected[j], 0, nameof(expected));
            levels[j] = -Math.Log(1 - confidence) / (levels.Length * expected[j]);
        }
        return levels;
    }

    /// <summary>
    /// The upper end for a sum of two parts that err apart: what draws tell of, and what silence leaves open; each part's distance to its own upper end
    /// counts by its square (Zou and Donner 2008).
    /// </summary>
    /// <param name="estimate">The estimate of the sum.</param>
    /// <param name="upper">The upper end by the draws alone.</param>
    /// <param name="open">How much higher silence leaves it open, 0 or more; 0 changes nothing.</param>
    public static double Upper(double estimate, double upper, double open) =>
        open == 0 ? upper : estimate + Math.Sqrt(Square(Math.Max(0, upper - estimate)) + Square(open));

    private static double Square(double x) => x * x;
}
