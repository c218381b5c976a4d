using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>One area's slope of one species with strength borrowed from the areas beside it, and the raw one.</summary>
public sealed record ShrunkenTrend
{
    /// <summary>The watershed that the areas lie in; null for the whole programme.</summary>
    public WatershedCode? Parent { get; init; }

    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The area's own slope, percent per season.</summary>
    public required double RawPercent { get; init; }

    /// <summary>Lower end of its own underlying interval; null without one, as in an area of few wetlands.</summary>
    public double? RawLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? RawUpper { get; init; }

    /// <summary>The shrunken slope, percent per season.</summary>
    public required double PercentPerSeason { get; init; }

    /// <summary>Lower end of its interval, which carries the uncertainty of τ and of shared springs.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public required double Upper { get; init; }

    /// <summary>How much of a change in the area's own slope the shrunken one follows, about 0 to 1.</summary>
    public required double OwnShare { get; init; }
}
