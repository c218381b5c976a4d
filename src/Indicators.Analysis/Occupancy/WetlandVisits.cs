using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Monitoring;
using Indicators.Statistics.Occupancy;

namespace Indicators.Analysis.Occupancy;

/// <summary>
/// One species' eligible visits to the wetlands of an area: sites are wetlands, seasons run without a gap from the first
/// eligible one to the run's last, and a visit's slot is its part of the calling window.
/// </summary>
internal sealed class WetlandVisits
{
    /// <summary>How many parts a calling window has.</summary>
    public const int Parts = 3;

    /// <summary>A part with fewer visits in the whole area shares its neighbour's rate (ours).</summary>
    private const int FewestVisits = 10;

    private Visit[] _visits;
    private readonly int[] _visited;
    private readonly bool[] _heard;

    private WetlandVisits(Id<Wetland>[] wetlands, int firstSeason, int seasons, Visit[] visits)
    {
        (Wetlands, FirstSeason, Seasons, Count, _visits) = (wetlands, firstSeason, seasons, visits.Length, visits);
        (_visited, _heard) = (new int[wetlands.Length * seasons], new bool[wetlands.Length * seasons]);
        foreach (var visit in visits)
        {
            int cell = visit.Site * seasons + visit.Season;
            _visited[cell]++;
            _heard[cell] |= visit.Detected;
            VisitsByPart[visit.Slot]++;
            DetectionsByPart[visit.Slot] += visit.Detected ? 1 : 0;
        }
        MergeSmallParts();
    }

    /// <summary>The wetlands, ordered; those without an eligible visit count for nothing.</summary>
    public Id<Wetland>[] Wetlands { get; }

    /// <summary>The first season with an eligible visit.</summary>
    public int FirstSeason { get; }

    /// <summary>How many seasons.</summary>
    public int Seasons { get; }

    /// <summary>How many visits.</summary>
    public int Count { get; }

    /// <summary>Visits in each part of the window.</summary>
    public int[] VisitsByPart { get; } = new int[Parts];

    /// <summary>Those that heard it.</summary>
    public int[] DetectionsByPart { get; } = new int[Parts];

    /// <summary>The slot that each part's visits have in the histories, numbered from 0 without gaps.</summary>
    public int[] SlotOfPart { get; } = new int[Parts];

    /// <summary>Whether a visit to a wetland heard it in a season, by its number from 0.</summary>
    public bool Heard(int site, int season) => _heard[site * Seasons + season];

    /// <summary>Wetlands with an eligible visit in a span of seasons, by number, and those of them that heard it.</summary>
    public (int Visited, int Heard) WetlandsIn(int first, int last)
    {
        int visited = 0, heard = 0;
        for (int site = 0; site < Wetlands.Length; site++)
        {
            visited += _visited.AsSpan(site * Seasons + first, last - first + 1).ContainsAnyExcept(0) ? 1 : 0;
            heard += _heard.AsSpan(site * Seasons + first, last - first + 1).Contains(true) ? 1 : 0;
        }
        return (visited, heard);
    }

    /// <summary>The last season, by number, in which a wetland had a visit, or −1.</summary>
    public int LastVisited(int site) => _visited.AsSpan(site * Seasons, Seasons).LastIndexOfAnyExcept(0);

    /// <summary>Gathers an area's visits.</summary>
    /// <param name="cells">All cells and visits.</param>
    /// <param name="area">The area.</param>
    /// <param name="species">The species.</param>
    /// <param name="wetlands">The area's wetlands, ordered.</param>
    /// <param name="siteOf">The wetland of each of the area's stations, by its place.</param>
    public static WetlandVisits Gather(CellTable cells, AreaNode area, int species, Id<Wetland>[] wetlands, int[] siteOf)
    {
        var table = cells.Visits;
        int first = int.MaxValue, last = cells.FirstYear + cells.Years - 1, count = 0;
        var visits = new Visit[area.Stations.Where(station => cells[species].TotalEffort(station) > 0).Sum(station => table.First(station + 1) - table.First(station))];
        for (int i = 0; i < area.Stations.Length; i++)
        {
            int station = area.Stations[i];
            if (cells[species].TotalEffort(station) == 0)
                continue;
            for (int v = table.First(station); v < table.First(station + 1); v++)
            {
                if (table.Season(v, species) is not { } season)
                    continue;
                first = Math.Min(first, season);
                visits[count++] = new Visit(siteOf[i], season, table.Level(v, species) > 0, (int)table.Part(v, species));
            }
        }
        Array.Resize(ref visits, count);
        if (count == 0)
            return new WetlandVisits(wetlands, last, 1, visits);
        foreach (ref var visit in visits.AsSpan())
            visit = visit with { Season = visit.Season - first };
        return new WetlandVisits(wetlands, first, last - first + 1, visits);
    }

    /// <summary>Lets go of the single visits, when no more histories are asked for.</summary>
    public void LetGo() => _visits = [];

    /// <summary>The histories of all wetlands over all seasons.</summary>
    public DetectionHistories Histories() => new(Wetlands.Length, Seasons, Slotted(apart: false), Slots);

    /// <summary>The histories with every season of a wetland as a site of its own, for one occupancy shared by all seasons.</summary>
    public DetectionHistories SeasonsApart() => new(Wetlands.Length * Seasons, 1, Slotted(apart: true), Slots);

    private int Slots => SlotOfPart.Max() + 1;

    private Visit[] Slotted(bool apart)
    {
        var visits = new Visit[_visits.Length];
        for (int i = 0; i < visits.Length; i++)
        {
            var visit = _visits[i];
            visits[i] = new Visit(apart ? visit.Site * Seasons + visit.Season : visit.Site, apart ? 0 : visit.Season, visit.Detected, SlotOfPart[visit.Slot]);
        }
        return visits;
    }

    /// <summary>A small part joins the one before it, else the one after; slots are then numbered without gaps.</summary>
    private void MergeSmallParts()
    {
        int[] large = [.. Enumerable.Range(0, Parts).Where(part => VisitsByPart[part] >= FewestVisits)];
        for (int part = 0; part < Parts; part++)
        {
            int slot = large.Length - 1;
            while (slot > 0 && large[slot] > part)
                slot--;
            SlotOfPart[part] = Math.Max(0, slot);
        }
    }
}
