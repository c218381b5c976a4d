using Indicators.Monitoring;
using Indicators.Statistics.Pooling;

namespace Indicators.Analysis.Results;

/// <summary>The slopes of one species in areas beside each other, pooled: a typical area, and how much areas differ.</summary>
/// <remarks>
/// Random effects under a covariance that holds springs shared by the areas. A mean over areas, each with its own slope, is
/// not the direct fit of all their stations, which weighs stations by how much they call.
/// </remarks>
public sealed record PooledTrend
{
    /// <summary>The watershed that the areas lie in; null for the whole programme.</summary>
    public WatershedCode? Parent { get; init; }

    /// <summary>How many digits the areas' codes have.</summary>
    public required int Level { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>How the variance between areas was estimated.</summary>
    public required BetweenVarianceMethod Method { get; init; }

    /// <summary>How many areas are pooled, 2 or more.</summary>
    public required int Areas { get; init; }

    /// <summary>The mean slope, percent per season.</summary>
    public required double PercentPerSeason { get; init; }

    /// <summary>Lower end of its interval, percent per season.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public required double Upper { get; init; }

    /// <summary>Lower end of where one more area's slope would lie, percent per season.</summary>
    public required double PredictionLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public required double PredictionUpper { get; init; }

    /// <summary>τ: the standard deviation of slopes between areas, log scale per season, 0 upward.</summary>
    public required double Tau { get; init; }

    /// <summary>Lower end of the interval of τ, by the generalised Q.</summary>
    public required double TauLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public required double TauUpper { get; init; }

    /// <summary>I²: the share of the variation between slopes that is not their own uncertainty, 0 to 1.</summary>
    public required double ISquared { get; init; }

    /// <summary>Cochran's Q on <see cref="Areas"/> − 1 degrees of freedom.</summary>
    public required double Q { get; init; }

    /// <summary>Standard deviation of the springs that the areas share, log scale, 0 upward.</summary>
    public required double SharedSeasonSd { get; init; }

    /// <summary>How alike those springs of one season and the next were taken to be, 0.1 to 0.8; null in editions made before it was reckoned with.</summary>
    public double? SeasonCorrelation { get; init; }
}
