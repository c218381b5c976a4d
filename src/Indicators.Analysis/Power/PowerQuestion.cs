namespace Indicators.Analysis.Power;

/// <summary>One way to listen: how many wetlands, each every season.</summary>
/// <param name="Wetlands">Wetlands, at least 1; each counts as one station.</param>
/// <param name="Seasons">Seasons, at least 2, without a gap.</param>
/// <param name="Visits">Surveys a wetland and season, at least 1.</param>
public readonly record struct ListeningPlan(int Wetlands, int Seasons, int Visits)
{
    /// <summary>Surveys altogether.</summary>
    public int Surveys => Wetlands * Seasons * Visits;
}

/// <summary>Which change people want to see, how surely, and how that is simulated.</summary>
public sealed record PowerQuestion
{
    /// <summary>The change in expected calling, percent per season, not 0, above −100.</summary>
    public required double PercentPerSeason { get; init; }

    /// <summary>How likely the right word should be, 0 to 1. Default 0.8, as is common in planning (Cohen 1988).</summary>
    public double Probability { get; init; } = 0.8;
    /// <summary>How many worlds are simulated for each. Default 500: a share of 0.8 is then known to within 0.02.</summary>
    public int Worlds { get; init; } = 500;

    /// <summary>The seed of the simulation. Default 1.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Bootstrap resamples in each world. Default 300: enough for the share of words, not for one world's interval.</summary>
    public int Resamples { get; init; } = 300;
}

/// <summary>What simulation says of one plan.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Worlds">How many worlds were simulated.</param>
/// <param name="RightWord">Share of worlds whose word was the right direction, 0 to 1.</param>
/// <param name="WrongWord">Share whose word was the opposite direction.</param>
/// <param name="RightRange">Share whose range of observed change over just these seasons lay on the right side of no change.</param>
/// <param name="ClosedForm">The chance of the right word by the closed form, 0 to 1.</param>
public sealed record PowerResult(ListeningPlan Plan, int Worlds, double RightWord, double WrongWord, double RightRange, double ClosedForm)
{
    /// <summary>The Monte Carlo standard error of <see cref="RightWord"/>.</summary>
    public double RightWordError => Math.Sqrt(RightWord * (1 - RightWord) / Worlds);
}
