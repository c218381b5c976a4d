using Indicators.Statistics.Fits;
using Xunit;

namespace Indicators.Statistics.Tests.Reference;

/// <summary>
/// Effects of the annual model against values printed for textbook tables: deaths of British doctors by smoking and age, and
/// breaks of yarn by wool and tension (tests/reference/handbook, sources there).
/// </summary>
public class HandbookReferenceTests
{
    [Theory]
    [InlineData("doctors", 4)]
    [InlineData("warpbreaks", 2)]
    public void Published_effects_come_out_to_the_digits_printed(string data, int effects)
    {
        var (panel, seasons) = ReferenceTable.Panel(ReferenceTable.Read($"handbook/{data}_cells.csv").Rows);
        double[] limits = FitReferenceTests.Limits(PeriodFit.Of(panel, [.. seasons.Select((_, t) => t == 0)]), seasons.Length);
        ReferenceRow[] rows = [.. ReferenceTable.Read("handbook/published.csv").Rows.Where(row => row["data"] == data)];
        Assert.Equal(effects, rows.Length);
        Assert.All(rows, row =>
        {
            double ratio = limits[Array.IndexOf(seasons, row.Number("season"))] / limits[0];
            double actual = row["quantity"] == "ratio_to_first" ? ratio : Math.Log(ratio);
            Assert.Equal(row.Number("value"), actual, 0.5000001 * Math.Pow(10, -row.Number("digits")));
        });
    }
}
