using System.Globalization;
using Indicators.Statistics.Panels;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>A committed table of outside values: a header of # lines, a heading, then rows without quotes.</summary>
internal sealed class ReferenceTable
{
    private readonly string[] _columns;
    private readonly string[][] _rows;

    private ReferenceTable(string name)
    {
        string[] lines = [.. File.ReadLines(Path.Combine(Folder, name)).Where(line => !line.StartsWith('#'))];
        _columns = lines[0].Split(',');
        _rows = [.. lines.Skip(1).Select(line => line.Split(','))];
        Assert.NotEmpty(_rows);
        Assert.All(_rows, row => Assert.Equal(_columns.Length, row.Length));
    }

    /// <summary>Where the tables lie beside the test program.</summary>
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "reference");

    public static ReferenceTable Read(string name) => new(name);

    public IEnumerable<ReferenceRow> Rows => _rows.Select(row => new ReferenceRow(_columns, row));

    /// <summary>Rows of cluster, unit, season, y, n and weight as a panel, its seasons in order.</summary>
    public static (PanelCounts Panel, double[] Seasons) Panel(IEnumerable<ReferenceRow> cells)
    {
        var rows = cells.ToArray();
        double[] seasons = [.. rows.Select(r => r.Number("season")).Distinct().Order()];
        string[] units = [.. rows.Select(r => r["unit"]).Distinct()];
        string[] clusters = [.. rows.Select(r => r["cluster"]).Distinct()];
        double[] y = new double[units.Length * seasons.Length], n = new double[y.Length], weights = new double[units.Length];
        int[] clusterOf = new int[units.Length];
        foreach (var row in rows)
        {
            int unit = Array.IndexOf(units, row["unit"]);
            int cell = unit * seasons.Length + Array.IndexOf(seasons, row.Number("season"));
            Assert.Equal(0, n[cell]);
            (y[cell], n[cell]) = (row.Number("y"), row.Number("n"));
            (weights[unit], clusterOf[unit]) = (row.Number("weight"), Array.IndexOf(clusters, row["cluster"]));
        }
        return (new PanelCounts(seasons, y, n, weights, clusterOf), seasons);
    }
}

/// <summary>One row, read by column name.</summary>
internal readonly record struct ReferenceRow(string[] Columns, string[] Cells)
{
    public string this[string column] => Cells[Array.IndexOf(Columns, column)];

    public double Number(string column) => this[column] switch
    {
        "inf" => double.PositiveInfinity,
        "-inf" => double.NegativeInfinity,
        var text => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture),
    };

    public uint Hex(string column) => uint.Parse(this[column], NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);

    public override string ToString() => string.Join(',', Cells);
}

/// <summary>How near is near enough.</summary>
internal static class Near
{
    /// <summary>Estimates: 1e-8 relative, as the methods promise.</summary>
    public const double Estimate = 1e-8;

    /// <summary>Standard errors: 1e-6 relative.</summary>
    public const double StandardError = 1e-6;

    /// <summary>Asserts a relative difference; values below a thousandth are compared as if they were a thousandth.</summary>
    public static void Relative(double expected, double actual, double tolerance, object what)
    {
        if (expected.Equals(actual))
            return;
        double difference = Math.Abs(expected - actual) / Math.Max(Math.Abs(expected), 1e-3);
        Assert.True(difference <= tolerance, FormattableString.Invariant(
            $"{what}: expected {expected:R}, was {actual:R}; relative difference {difference:G3}, allowed {tolerance:G3}"));
    }
}
