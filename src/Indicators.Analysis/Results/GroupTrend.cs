using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>The mean slope of a group of species in one area over the whole series.</summary>
/// <remarks>
/// The mean of the species' log slopes, each counting once. Its interval is the underlying one: wetlands resampled and shared
/// springs drawn jointly over the species. The two-way interval is another way to the same question (Cameron, Gelbach and Miller 2011).
/// </remarks>
public sealed record GroupTrend
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>Which species.</summary>
    public required SpeciesGroup Group { get; init; }

    /// <summary>How many species have a slope with draws, and so are in the mean; 2 or more, else there is no trend.</summary>
    public required int Species { get; init; }

    /// <summary>100 (e^mean − 1), percent per season, −100 upward; null with fewer than two species.</summary>
    public double? PercentPerSeason { get; init; }

    /// <summary>Lower end of the interval of the underlying direction, percent per season; null without one or when infinite.</summary>
    public double? LowerUnderlying { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? UpperUnderlying { get; init; }

    /// <summary>Which way the group goes, by that interval.</summary>
    public Direction Direction { get; init; }

    /// <summary>Share of the underlying draws with a falling mean, 0 to 1; null without an interval.</summary>
    public double? ProbabilityOfDecline { get; init; }

    /// <summary>Lower end of the two-way (wetland and season) interval, percent per season, for analysts.</summary>
    public double? TwoWayLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? TwoWayUpper { get; init; }
}
