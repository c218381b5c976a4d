using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Tests.Reference;

namespace Indicators.Statistics.Tests.Adjusted;

/// <summary>Visits as a test writes them, and the panel they add up to.</summary>
internal sealed record VisitData(
    double[] Seasons, int[] Units, int[] Periods, double[] Counts, double[][] Covariates, double[] Weights, int[] Clusters)
{
    public PanelCounts ToPanel()
    {
        double[] y = new double[Weights.Length * Seasons.Length], n = new double[y.Length];
        for (int v = 0; v < Units.Length; v++)
        {
            y[Units[v] * Seasons.Length + Periods[v]] += Counts[v];
            n[Units[v] * Seasons.Length + Periods[v]]++;
        }
        return new PanelCounts(Seasons, y, n, Weights, Clusters);
    }

    public VisitPanel ToVisits() => new(ToPanel(), Units, Periods, Counts, [.. Covariates.SelectMany(row => row)], Covariates[0].Length);

    /// <summary>The same visits in another order.</summary>
    public VisitData Ordered(int[] order) => this with
    {
        Units = [.. order.Select(i => Units[i])],
        Periods = [.. order.Select(i => Periods[i])],
        Counts = [.. order.Select(i => Counts[i])],
        Covariates = [.. order.Select(i => Covariates[i])],
    };

    /// <summary>Rows of a reference table, the named columns as covariates; an empty cell is missing.</summary>
    public static VisitData From(
        IEnumerable<ReferenceRow> table, Func<ReferenceRow, string> unit, Func<ReferenceRow, double> season, string count,
        Func<ReferenceRow, double[]> covariates, Func<ReferenceRow, double> weight, Func<ReferenceRow, int>? cluster)
    {
        var rows = table.ToArray();
        double[] seasons = [.. rows.Select(season).Distinct().Order()];
        string[] units = [.. rows.Select(unit).Distinct()];
        var firstOf = units.Select(u => rows.First(r => unit(r) == u)).ToArray();
        return new VisitData(
            seasons,
            [.. rows.Select(r => Array.IndexOf(units, unit(r)))],
            [.. rows.Select(r => Array.IndexOf(seasons, season(r)))],
            [.. rows.Select(r => r.Number(count))],
            [.. rows.Select(covariates)],
            [.. firstOf.Select(weight)],
            [.. firstOf.Select((r, i) => cluster is null ? i : cluster(r) - 1)]);
    }

    public static double Number(ReferenceRow row, string column) => row[column].Length == 0 ? double.NaN : row.Number(column);
}
