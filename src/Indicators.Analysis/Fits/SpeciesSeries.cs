using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Statistics.Panels;

namespace Indicators.Analysis.Fits;

/// <summary>
/// The cells of one species in one area that a fit can use: stations that ever heard it, seasons with effort there.
/// </summary>
internal sealed class SpeciesSeries
{
    private SpeciesSeries(int species) => Species = species;

    /// <summary>Index of the species in the cell table.</summary>
    public int Species { get; }

    /// <summary>The seasons with effort, ascending; empty when the species was never heard.</summary>
    public int[] Seasons { get; private init; } = [];

    /// <summary>The panel of stations × <see cref="Seasons"/>; null when the species was never heard.</summary>
    public PanelCounts? Panel { get; private init; }

    /// <summary>Which seasons are the baseline.</summary>
    public bool[] Baseline { get; private init; } = [];

    /// <summary>Wetlands with a station that ever heard the species.</summary>
    public int Wetlands { get; private init; }

    /// <summary>Stations that ever heard it.</summary>
    public int Stations => Panel?.Units ?? 0;

    /// <summary>Their eligible surveys.</summary>
    public int Surveys { get; private init; }

    /// <summary>Stations with eligible surveys that never heard it.</summary>
    public int SilentStations { get; private init; }

    /// <summary>Share of <see cref="Surveys"/> at full chorus.</summary>
    public double CeilingShare { get; private init; }

    /// <summary>Σy of each season.</summary>
    public int[] CallsBySeason { get; private init; } = [];

    /// <summary>Eligible surveys of each season.</summary>
    public int[] SurveysBySeason { get; private init; } = [];

    /// <summary>Stations surveyed in each season.</summary>
    public int[] StationsBySeason { get; private init; } = [];

    /// <summary>How many of the seasons lie at or before one.</summary>
    public int SeasonsThrough(int season)
    {
        int at = Array.BinarySearch(Seasons, season);
        return at >= 0 ? at + 1 : ~at;
    }

    /// <summary>Gathers one species' cells in one area.</summary>
    /// <param name="cells">All cells.</param>
    /// <param name="area">The area.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="clusterOf">Cluster number of each of the area's stations.</param>
    /// <param name="clusters">How many clusters the area has.</param>
    /// <param name="baseline">Which seasons are the baseline.</param>
    public static SpeciesSeries Gather(
        CellTable cells, AreaNode area, int species, int[] clusterOf, int clusters, BaselineOptions baseline)
    {
        var table = cells[species];
        int[] heard = [.. Enumerable.Range(0, area.Stations.Length).Where(i => table.TotalCalls(area.Stations[i]) > 0)];
        int silent = area.Stations.Count(s => table.TotalEffort(s) > 0 && table.TotalCalls(s) == 0);
        if (heard.Length == 0)
            return new SpeciesSeries(species) { SilentStations = silent };

        int[] years = [.. Enumerable.Range(0, cells.Years).Where(year => heard.Any(i => table.Effort(area.Stations[i], year) > 0))];
        int[] seasons = [.. years.Select(year => cells.FirstYear + year)];
        var y = new double[heard.Length * years.Length];
        var n = new double[y.Length];
        int[] calls = new int[years.Length], surveys = new int[years.Length], stations = new int[years.Length];
        for (int i = 0; i < heard.Length; i++)
        {
            int station = area.Stations[heard[i]];
            for (int t = 0; t < years.Length; t++)
            {
                int effort = table.Effort(station, years[t]), heardHere = table.Calls(station, years[t]);
                n[i * years.Length + t] = effort;
                y[i * years.Length + t] = heardHere;
                calls[t] += heardHere;
                surveys[t] += effort;
                stations[t] += effort > 0 ? 1 : 0;
            }
        }
        int total = surveys.Sum();
        return new SpeciesSeries(species)
        {
            Seasons = seasons,
            Panel = new PanelCounts(
                [.. seasons.Select(s => (double)s)],
                y,
                n,
                [.. heard.Select(i => cells.Stations[area.Stations[i]].Weight)],
                [.. heard.Select(i => clusterOf[i])],
                clusters),
            Baseline = [.. seasons.Select((s, t) => baseline.Seasons is { } named ? named.Contains(s) : t < baseline.FirstSeasons)],
            Wetlands = heard.Select(i => cells.Stations[area.Stations[i]].Wetland).Distinct().Count(),
            Surveys = total,
            SilentStations = silent,
            CeilingShare = (double)heard.Sum(i => table.FullChorus(area.Stations[i])) / total,
            CallsBySeason = calls,
            SurveysBySeason = surveys,
            StationsBySeason = stations,
        };
    }
}
