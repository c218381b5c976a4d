using Indicators.Analysis.Power;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Tests.Reference;
using Xunit;

namespace Indicators.Analysis.Tests.Power;

/// <summary>
/// Slopes of planned programmes, by the closed form and by the engine's own drawing, against programmes drawn and fitted in R
/// from the description alone (tests/reference/power).
/// </summary>
public class PowerReferenceTests
{
    private const int Worlds = 1500;

    public static TheoryData<string> Plans => new(ReferenceTable.Read("power/plans.csv").Rows.Select(row => row["plan"]));

    [Theory]
    [MemberData(nameof(Plans))]
    public void Slopes_of_a_plan_spread_as_in_programmes_drawn_elsewhere(string plan)
    {
        var row = ReferenceTable.Read("power/plans.csv").Rows.Single(each => each["plan"] == plan);
        var expected = ReferenceTable.Read("power/expected.csv").Rows.Where(each => each["plan"] == plan).ToDictionary(each => each["quantity"]);
        var listening = new ListeningPlan((int)row.Number("wetlands"), (int)row.Number("seasons"), (int)row.Number("visits"));
        var spread = new CallingSpread
        {
            Mean = row.Number("mean"),
            WhenHeard = [(1, row.Number("share1")), (2, row.Number("share2")), (3, row.Number("share3"))],
            LevelSd = row.Number("level_sd"),
            SlopeSd = row.Number("slope_sd"),
            CellSd = row.Number("cell_sd"),
            SeasonSd = row.Number("season_sd"),
        };
        double slope = double.LogP1(row.Number("percent") / 100), mean = expected["mean"].Number("value"), sd = expected["sd"].Number("value");

        var outlook = PowerClosedForm.Outlook(listening, spread, slope);
        double closed = Math.Sqrt(outlook.BetweenWetlands + outlook.BySprings);
        // First-order theory: 4 % of the standard deviation, and a tenth of it in the mean.
        Assert.InRange(closed / sd, 0.96, 1.04);
        Assert.InRange(outlook.Mean - mean, -0.1 * sd, 0.1 * sd);

        double[] slopes = [.. Enumerable.Range(0, Worlds).Select(w =>
            TrendFit.Of(SimulatedListening.Draw(listening, spread, slope, new UniformStream(13, 1, (uint)w))).Value)];
        double average = slopes.Average(), deviation = Math.Sqrt(slopes.Sum(s => (s - average) * (s - average)) / (Worlds - 1));
        // Four standard errors of 1,500 draws; those of R's 20,000 are small beside them.
        Assert.InRange(average - mean, -4 * sd / Math.Sqrt(Worlds) - 4 * expected["mean"].Number("error"), 4 * sd / Math.Sqrt(Worlds) + 4 * expected["mean"].Number("error"));
        Assert.InRange(deviation / sd, 1 - 4 / Math.Sqrt(2.0 * Worlds), 1 + 4 / Math.Sqrt(2.0 * Worlds));
    }
}
