using Indicators.Analysis.Cells;
using Indicators.Monitoring;

namespace Indicators.Analysis.Areas;

/// <summary>
/// Where results of a protected species may be told: only in areas where enough wetlands heard it, and never where taking
/// told areas from one another leaves fewer surveyed ones.
/// </summary>
/// <remarks>
/// Where fewer heard it, or none, the answer is the same, that nothing is told, so that it says nothing of the place.
/// Watersheds nest, so a difference is an area minus told areas inside it. When the part of an area that its largest told
/// areas leave over has 1 to n − 1 wetlands, the smallest of those is kept back too, and so on; every other difference is
/// then a sum of parts that are empty or large enough. The larger area is told in preference to the smaller.
/// </remarks>
internal static class Disclosure
{
    /// <summary>The areas in which a protected species may be told.</summary>
    /// <param name="areas">The areas.</param>
    /// <param name="cells">The cells.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="minimumWetlands">The fewest wetlands.</param>
    public static HashSet<WatershedCode> Tellable(AreaTree areas, CellTable cells, int species, int minimumWetlands)
    {
        var table = cells[species];
        int Wetlands(IEnumerable<int> stations) => stations.Select(s => cells.Stations[s].Wetland).Distinct().Count();
        var children = areas.Nodes.ToLookup(n => n.Code.Parent, n => n.Code);
        var told = areas.Nodes.Where(n => Wetlands(n.Stations.Where(table.EverHeard)) >= minimumWetlands).Select(n => n.Code).ToHashSet();

        // From the smallest areas up: inside an area everything is settled when its turn comes.
        foreach (var area in areas.Nodes.OrderByDescending(n => n.Code.Digits).ThenBy(n => n.Code))
        {
            while (told.Contains(area.Code))
            {
                var outermost = Outermost(children, area.Code, told).ToList();
                int left = Wetlands(area.Stations.Except(outermost.SelectMany(c => areas[c].Stations)));
                if (left == 0 || left >= minimumWetlands)
                    break;
                told.Remove(outermost.OrderBy(c => Wetlands(areas[c].Stations)).ThenBy(c => c).First());
            }
        }
        return told;
    }

    /// <summary>The told areas inside one that lie in no other told area inside it.</summary>
    private static IEnumerable<WatershedCode> Outermost(ILookup<WatershedCode?, WatershedCode> children, WatershedCode area, HashSet<WatershedCode> told) =>
        children[area].SelectMany(child => told.Contains(child) ? [child] : Outermost(children, child, told));
}
