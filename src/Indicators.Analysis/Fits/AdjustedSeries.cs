using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Panels;

namespace Indicators.Analysis.Fits;

/// <summary>The single visits of one species in one area that an adjusted fit can use: eligible visits of stations that ever heard it.</summary>
/// <param name="Seasons">The seasons with effort, ascending.</param>
/// <param name="Panel">Their cells.</param>
/// <param name="HeardVisits">Visits on which it was heard.</param>
/// <param name="Rows">What was different about every visit of the programme.</param>
/// <param name="Units">The station of each visit, an index into the panel.</param>
/// <param name="Periods">The season of each visit, an index.</param>
/// <param name="Counts">The response of each visit.</param>
/// <param name="RowOf">The row of each visit.</param>
internal sealed record AdjustedSeries(
    int[] Seasons, PanelCounts Panel, int HeardVisits, VisitRows Rows, int[] Units, int[] Periods, double[] Counts, int[] RowOf)
{
    /// <summary>The visits, standardised.</summary>
    public VisitPanel ToVisits() => new(Panel, Rows, Units, Periods, Counts, RowOf);

    /// <summary>Gathers the visits; null when the species was never heard.</summary>
    /// <param name="cells">All cells.</param>
    /// <param name="covariates">The visits' covariates.</param>
    /// <param name="area">The area.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="clusters">What is resampled.</param>
    /// <param name="weights">What call levels 0 to 3 count.</param>
    public static AdjustedSeries? Gather(
        CellTable cells, VisitCovariates covariates, AreaNode area, int species, AreaClusters clusters, ReadOnlySpan<double> weights)
    {
        var visits = cells.Visits;
        var heard = new List<int>();
        int most = 0;
        for (int i = 0; i < area.Stations.Length; i++)
        {
            int station = area.Stations[i], eligible = 0;
            bool any = false;
            for (int v = visits.First(station); v < visits.First(station + 1); v++)
            {
                if (visits.Season(v, species) is null)
                    continue;
                eligible++;
                any |= weights[visits.Level(v, species)] > 0;
            }
            if (!any)
                continue;
            heard.Add(i);
            most += eligible;
        }
        if (heard.Count == 0)
            return null;

        int[] units = new int[most], seasons = new int[most], rows = new int[most];
        var counts = new double[most];
        int at = 0, heardVisits = 0;
        for (int unit = 0; unit < heard.Count; unit++)
        {
            int station = area.Stations[heard[unit]];
            for (int v = visits.First(station); v < visits.First(station + 1); v++)
            {
                if (visits.Season(v, species) is not { } season)
                    continue;
                (units[at], seasons[at], counts[at]) = (unit, season, weights[visits.Level(v, species)]);
                heardVisits += counts[at] > 0 ? 1 : 0;
                rows[at++] = v;
            }
        }

        int first = seasons.Min(), years = seasons.Max() - first + 1;
        var period = new int[years];
        foreach (int season in seasons)
            period[season - first] = 1;
        int[] present = [.. Enumerable.Range(0, years).Where(y => period[y] == 1).Select(y => first + y)];
        for (int t = 0; t < present.Length; t++)
            period[present[t] - first] = t;
        double[] y = new double[heard.Count * present.Length], n = new double[y.Length];
        for (int v = 0; v < most; v++)
        {
            int cell = units[v] * present.Length + (seasons[v] = period[seasons[v] - first]);
            y[cell] += counts[v];
            n[cell]++;
        }
        var panel = new PanelCounts(
            [.. present.Select(s => (double)s)],
            y,
            n,
            [.. heard.Select(i => cells.Stations[area.Stations[i]].Weight)],
            [.. heard.Select(i => clusters.Of[i])],
            clusters.Count);
        return new AdjustedSeries(present, panel, heardVisits, covariates.RowsFor(species), units, seasons, counts, rows);
    }
}
