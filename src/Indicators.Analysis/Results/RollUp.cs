using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>One species' index of a larger watershed in one season, once fitted directly and once rolled up from the watersheds directly inside it.</summary>
public sealed record RollUp
{
    /// <summary>The larger area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The season.</summary>
    public required int Season { get; init; }

    /// <summary>The index fitted to all the area's stations, baseline 100.</summary>
    public required double DirectIndex { get; init; }

    /// <summary>
    /// The mean of the smaller areas' indices, weighted by stations that ever heard the species; null when the areas that
    /// have one hold too few of all the area's such stations.
    /// </summary>
    public double? RolledUpIndex { get; init; }

    /// <summary><see cref="RolledUpIndex"/> − <see cref="DirectIndex"/>; null without the former.</summary>
    public double? Difference => RolledUpIndex - DirectIndex;

    /// <summary>How many smaller areas are in it that season.</summary>
    public required int Areas { get; init; }

    /// <summary>Which share of the area's stations that ever heard the species those smaller areas hold, 0 to 1.</summary>
    public required double StationShare { get; init; }
}
