using Indicators.Analysis.Cells;
using Indicators.Monitoring;

namespace Indicators.Analysis.Areas;

/// <summary>What is resampled in an area: its wetlands, or its stations where it is a single wetland.</summary>
/// <param name="Of">Cluster number of each of the area's stations, in their order.</param>
/// <param name="Count">How many clusters there are.</param>
/// <param name="AreStations">The clusters are stations.</param>
internal sealed record AreaClusters(int[] Of, int Count, bool AreStations)
{
    /// <summary>The wetland of each cluster; empty where the clusters are stations.</summary>
    public IReadOnlyList<Id<Wetland>> Wetlands { get; private init; } = [];

    /// <summary>The clusters of an area.</summary>
    public static AreaClusters In(CellTable cells, AreaNode area)
    {
        var wetlands = area.Stations.Select(s => cells.Stations[s].Wetland).Distinct().Order().ToList();
        if (wetlands.Count == 1)
            return new AreaClusters([.. Enumerable.Range(0, area.Stations.Length)], area.Stations.Length, true);
        var number = wetlands.Select((w, i) => (w, i)).ToDictionary(p => p.w, p => p.i);
        return new AreaClusters([.. area.Stations.Select(s => number[cells.Stations[s].Wetland])], wetlands.Count, false) { Wetlands = wetlands };
    }
}
