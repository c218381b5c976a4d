using Indicators.Statistics.Groups;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// The common course of several series against R's stats::lm with a factor for series and for season: complete, with late
/// series, with holes, and with values at the floor (tests/reference/group).
/// </summary>
public class GroupReferenceTests
{
    private const double FloorPercent = 1;

    public static TheoryData<string> Cases => new(ReferenceTable.Read("group/expected.csv").Rows.Select(row => row["case"]).Distinct());

    [Theory]
    [MemberData(nameof(Cases))]
    public void Course_agrees_with_a_regression_on_two_factors(string name)
    {
        ReferenceRow[] cells = [.. ReferenceTable.Read("group/series.csv").Rows.Where(row => row["case"] == name)];
        ReferenceRow[] expected = [.. ReferenceTable.Read("group/expected.csv").Rows.Where(row => row["case"] == name)];
        int series = (int)cells.Max(row => row.Number("series")), seasons = expected.Length;
        double[] logs = new double[series * seasons];
        bool[] anchors = new bool[series];
        Assert.Equal(logs.Length, cells.Length);
        foreach (var row in cells)
        {
            int k = (int)row.Number("series") - 1, t = (int)row.Number("season") - 1;
            logs[k * seasons + t] = row["percent"].Length == 0 ? double.NaN : Math.Log(Math.Max(FloorPercent, row.Number("percent")) / 100);
            anchors[k] = row["anchor"] == "1";
        }
        var course = new double[seasons];

        new AdditiveIndex(series, seasons).Fit(logs, anchors, course);

        Assert.All(expected, row => Near.Relative(row.Number("index"), 100 * Math.Exp(course[(int)row.Number("season") - 1]), Near.Estimate, row));
    }
}
