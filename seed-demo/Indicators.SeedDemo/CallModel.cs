namespace Indicators.SeedDemo;

/// <summary>
/// How likely each call level is: a cumulative logit, P(level ≥ j) = 1/(1 + e^(c_j − η)), the ordered-category form of
/// McCullagh 1980 ("Regression models for ordinal data").
/// </summary>
public static class CallModel
{
    /// <summary>The cuts c₁, c₂, c₃ of levels 1, 2 and 3.</summary>
    public static IReadOnlyList<double> Cuts { get; } = [0.0, 1.5, 3.2];

    /// <summary>How often each wind force blows on an evening somebody goes out, forces 0 to 5.</summary>
    public static IReadOnlyList<double> WindShares { get; } = [0.18, 0.30, 0.26, 0.16, 0.07, 0.03];

    /// <summary>What wind takes off the logit level: nothing up to force 2, then 0.25 a force.</summary>
    public static double WindEffect(int beaufort) => -0.25 * Math.Max(0, beaufort - 2);

    /// <summary>The season around which slopes turn.</summary>
    public const double MiddleSeason = (District.FirstSeason + District.LastSeason) / 2.0;

    /// <summary>P(level ≥ j), j from 1 to 3.</summary>
    public static double AtLeast(int level, double eta) => 1 / (1 + Math.Exp(Cuts[level - 1] - eta));

    /// <summary>The expected call level, 0 to 3.</summary>
    public static double Expected(double eta) => AtLeast(1, eta) + AtLeast(2, eta) + AtLeast(3, eta);

    /// <summary>The level that one uniform draw gives.</summary>
    public static int LevelOf(double eta, double uniform)
    {
        for (int level = 3; level > 0; level--)
        {
            if (uniform < AtLeast(level, eta))
                return level;
        }

        return 0;
    }

    /// <summary>A species' fixed logit level in a watershed, season and run on a calm evening.</summary>
    public static double Fixed(DemoSpecies species, double localSlope, int season, int run) =>
        species.Level + species.RunEffects[run]
        + (species.Slope + species.LocalAnswer * localSlope) * (season - MiddleSeason);
}
