using System.Buffers;
using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Statistics.Panels;

namespace Indicators.Analysis.Fits;

/// <summary>
/// The cells of one species in one area that a fit can use, over a span of seasons and under one response: stations that
/// heard it there and then, seasons with effort at them. "Heard" is a response above 0.
/// </summary>
internal sealed class SpeciesSeries
{
    private readonly Func<PanelCounts>? _make;
    private PanelCounts? _panel;

    private SpeciesSeries(int species, Func<PanelCounts>? make = null) => (Species, _make, _panel) = (species, make, make?.Invoke());

    /// <summary>Index of the species in the cell table.</summary>
    public int Species { get; }

    /// <summary>The seasons with effort, ascending; empty when the species was never heard.</summary>
    public int[] Seasons { get; private init; } = [];

    /// <summary>Whether the species was ever heard, so that there is a panel.</summary>
    public bool WasHeard => _make is not null;

    /// <summary>The panel of stations × <see cref="Seasons"/>; null when the species was never heard. Made anew at every look once it was let go.</summary>
    public PanelCounts? Panel => _panel ?? _make?.Invoke();

    /// <summary>Which seasons are the baseline.</summary>
    public bool[] Baseline { get; private init; } = [];

    /// <summary>Wetlands with a station that ever heard the species.</summary>
    public int Wetlands { get; private init; }

    /// <summary>Stations that ever heard it.</summary>
    public int Stations { get; private init; }

    /// <summary>Their eligible surveys.</summary>
    public int Surveys { get; private init; }

    /// <summary>Stations with eligible surveys that never heard it.</summary>
    public int SilentStations { get; private init; }

    /// <summary>Share of <see cref="Surveys"/> at full chorus.</summary>
    public double CeilingShare { get; private init; }

    /// <summary>The sum of call levels of each season, whatever the response.</summary>
    public int[] CallsBySeason { get; private init; } = [];

    /// <summary>Eligible surveys of each season.</summary>
    public int[] SurveysBySeason { get; private init; } = [];

    /// <summary>Stations surveyed in each season.</summary>
    public int[] StationsBySeason { get; private init; } = [];

    /// <summary>Lets go of the panel, which in a large area takes more room than all that is made of it.</summary>
    public void LetGo() => _panel = null;

    /// <summary>Keeps the panel for looks to come, on one thread, until this is disposed; then it is let go again if it had been.</summary>
    public Holding Hold()
    {
        var holding = new Holding(_panel is null ? this : null);
        _panel ??= _make?.Invoke();
        return holding;
    }

    /// <summary>That a panel is kept.</summary>
    public readonly ref struct Holding(SpeciesSeries? series)
    {
        /// <summary>Lets go of what was let go before.</summary>
        public void Dispose() => series?.LetGo();
    }

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
    /// <param name="clusters">Which cluster each of the area's stations belongs to.</param>
    /// <param name="response">What levels 1, 2 and 3 count.</param>
    /// <param name="baseline">Which seasons are the baseline.</param>
    /// <param name="from">The first season wanted.</param>
    /// <param name="to">The last season wanted.</param>
    public static SpeciesSeries Gather(
        CellTable cells,
        AreaNode area,
        int species,
        AreaClusters clusters,
        (double One, double Two, double Three) response,
        BaselineOptions baseline,
        int from = int.MinValue,
        int to = int.MaxValue)
    {
        var table = cells[species];
        int[] wanted = [.. Enumerable.Range(0, cells.Years).Where(year => cells.FirstYear + year >= from && cells.FirstYear + year <= to)];
        int[] heard = [.. Enumerable.Range(0, area.Stations.Length)
            .Where(i => table.EverHeard(area.Stations[i]) && wanted.Any(year => table.Response(area.Stations[i], year, response) > 0))];
        int silent = area.Stations.Count(s => table.TotalEffort(s) > 0) - heard.Length;
        if (heard.Length == 0)
            return new SpeciesSeries(species) { SilentStations = silent };

        int[] years = [.. wanted.Where(year => heard.Any(i => table.Effort(area.Stations[i], year) > 0))];
        int[] seasons = [.. years.Select(year => cells.FirstYear + year)];
        int[] calls = new int[years.Length], surveys = new int[years.Length], stations = new int[years.Length];
        int fullChorus = 0;
        for (int i = 0; i < heard.Length; i++)
        {
            int station = area.Stations[heard[i]];
            for (int t = 0; t < years.Length; t++)
            {
                int effort = table.Effort(station, years[t]);
                calls[t] += table.Calls(station, years[t]);
                surveys[t] += effort;
                stations[t] += effort > 0 ? 1 : 0;
                fullChorus += table.FullChorus(station, years[t]);
            }
        }
        int total = surveys.Sum();
        return new SpeciesSeries(species, () => PanelOf(cells, area, table, clusters, response, heard, years))
        {
            Seasons = seasons,
            Stations = heard.Length,
            Baseline = [.. seasons.Select((s, t) => baseline.Seasons is { } named ? named.Contains(s) : t < baseline.FirstSeasons)],
            Wetlands = heard.Select(i => cells.Stations[area.Stations[i]].Wetland).Distinct().Count(),
            Surveys = total,
            SilentStations = silent,
            CeilingShare = (double)fullChorus / total,
            CallsBySeason = calls,
            SurveysBySeason = surveys,
            StationsBySeason = stations,
        };
    }

    private static PanelCounts PanelOf(
        CellTable cells, AreaNode area, SpeciesCells table, AreaClusters clusters, (double One, double Two, double Three) response, int[] heard, int[] years)
    {
        int cellCount = heard.Length * years.Length;
        double[] room = ArrayPool<double>.Shared.Rent(2 * cellCount);
        Span<double> y = room.AsSpan(0, cellCount), n = room.AsSpan(cellCount, cellCount);
        for (int i = 0; i < heard.Length; i++)
        {
            for (int t = 0; t < years.Length; t++)
            {
                n[i * years.Length + t] = table.Effort(area.Stations[heard[i]], years[t]);
                y[i * years.Length + t] = table.Response(area.Stations[heard[i]], years[t], response);
            }
        }
        var panel = new PanelCounts(
            [.. years.Select(year => (double)(cells.FirstYear + year))],
            y,
            n,
            [.. heard.Select(i => cells.Stations[area.Stations[i]].Weight)],
            [.. heard.Select(i => clusters.Of[i])],
            clusters.Count);
        ArrayPool<double>.Shared.Return(room);
        return panel;
    }
}
