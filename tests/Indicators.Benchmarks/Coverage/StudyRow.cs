using System.Globalization;

namespace Indicators.Benchmarks.Coverage;

/// <summary>One row of a study's table, read by column name.</summary>
internal sealed class StudyRow(string[] columns, string[] cells)
{
    public string this[string column] => cells[Array.IndexOf(columns, column)];

    public double Number(string column) => double.Parse(this[column], CultureInfo.InvariantCulture);

    public int Whole(string column) => int.Parse(this[column], CultureInfo.InvariantCulture);

    /// <summary>All rows of a table; no cell of it holds a comma.</summary>
    public static IReadOnlyList<StudyRow> Read(string path)
    {
        string[] lines = File.ReadAllLines(path), columns = lines[0].Split(',');
        return [.. lines.Skip(1).Select(line => new StudyRow(columns, line.Split(',')))];
    }
}
