using Indicators.Statistics.Fits;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// Tables of counts without a finite maximum, or with nothing to say. What must be answered was reasoned by hand (Ford 1957;
/// Correia, Guimarães and Zylkin 2019) and checked by letting glm run away: tests/reference/boundaries/make.R.
/// </summary>
public class BoundaryReferenceTests
{
    public static TheoryData<string> Cases => new(ReferenceTable.Read("boundaries/cases.csv").Rows.Select(r => r["case"]));

    [Theory]
    [MemberData(nameof(Cases))]
    public void Boundary_is_answered_as_reasoned(string name)
    {
        var about = ReferenceTable.Read("boundaries/cases.csv").Rows.Single(r => r["case"] == name);
        var (panel, seasons) = ReferenceTable.Panel(ReferenceTable.Read("boundaries/cells.csv").Rows.Where(r => r["case"] == name));
        string[] wanted = about["baseline"].Split(' ');
        bool[] baseline = [.. seasons.Select(s => wanted.Contains(FormattableString.Invariant($"{s}")))];
        Assert.Equal(wanted.Length, baseline.Count(b => b));

        var slope = TrendFit.Of(panel);
        var annual = PeriodFit.Of(panel, baseline);
        var expected = ReferenceTable.Read("boundaries/expected.csv").Rows.Where(r => r["case"] == name).ToArray();
        Assert.Equal(seasons.Length + 1, expected.Length);
        foreach (var row in expected)
        {
            if (row["term"] == "slope")
            {
                Assert.Equal(row["status"] switch
                {
                    "finite" => SlopeStatus.Finite,
                    "minus_infinity" => SlopeStatus.MinusInfinity,
                    "plus_infinity" => SlopeStatus.PlusInfinity,
                    "never_heard" or "one_season" => SlopeStatus.None,
                    var other => throw new InvalidOperationException($"nothing checks {other}"),
                }, slope.Status);
                if (slope.Status == SlopeStatus.Finite)
                    Near.Relative(row.Number("value"), slope.Value, Near.Estimate, row);
                continue;
            }

            int t = Array.IndexOf(seasons, row.Number("term"));
            Assert.Equal(row["status"] != "silent", annual.Succeeded);
            if (!annual.Succeeded)
                continue;
            Assert.Equal(row["status"] switch
            {
                "finite" => PeriodStatus.Linked,
                "zero" => PeriodStatus.ForcedToZero,
                "above" or "unlinked" => PeriodStatus.NotLinked,
                var other => throw new InvalidOperationException($"nothing checks {other}"),
            }, annual.StatusOf(t));
            double[] limits = FitReferenceTests.Limits(annual, seasons.Length);
            if (annual.StatusOf(t) == PeriodStatus.Linked)
                Near.Relative(row.Number("value"), 100 * limits[t] / limits.Where((_, u) => baseline[u]).Average(), Near.Estimate, row);
            else
                Assert.Equal(annual.StatusOf(t) == PeriodStatus.ForcedToZero ? "0" : "", row["value"]);
        }
    }
}
