using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Analysis.Tests.Occupancy;

/// <summary>
/// The engine over worlds in which it is known where the frogs are: a small part of the study in docs/occupancy.md, with the
/// bounds its own sampling error allows.
/// </summary>
public class OccupancyTruthTests(ITestOutputHelper output)
{
    private const uint Worlds = 150;

    [Fact]
    public void Occupancy_is_unbiased_and_its_intervals_hold_where_the_raw_share_is_far_off()
    {
        var world = new OccupancyWorld(20, 12, 0.6, 0.08, 0.15, [0.15, 0.6, 0.3]);
        double truth = world.PsiIn(11), raw = 0, psi = 0, p = 0, holds = 0, given = 0, holdsP = 0;
        for (uint key = 0; key < Worlds; key++)
        {
            var result = ProgrammeAnalysis.Prepare(world.Draw(5000 + key).Data, new ProgrammeSettings(), new RunOptions { Resamples = 1 })
                .Analyse(OccupancyWorld.Area, 1, TestContext.Current.CancellationToken);
            foreach (var point in result.Occupancy.Where(o => o.Season == OccupancyWorld.FirstSeason + 11))
            {
                (raw, psi) = (raw + point.RawShare!.Value, psi + point.Psi!.Value);
                if (point is { Lower: { } low, Upper: { } high })
                    (given, holds) = (given + 1, holds + (low <= truth && truth <= high ? 1 : 0));
            }
            foreach (var rate in result.Detection.Where(d => d.Part == WindowPart.Early))
                (p, holdsP) = (p + rate.P, holdsP + (rate.Lower <= 0.15 && 0.15 <= rate.Upper ? 1 : 0));
        }
        double n = 4 * Worlds;
        output.WriteLine(FormattableString.Invariant(
            $"true psi {truth:0.000}, raw {raw / n:0.000}, psi {psi / n:0.000}, holds {holds / given:0.000} of {given}; p {p / n:0.000}, holds {holdsP / n:0.000}"));
        Assert.Equal(truth, psi / n, 0.015);
        Assert.Equal(0.15, p / n, 0.01);
        Assert.True(raw / n < truth - 0.08);
        Assert.InRange(holds / given, 0.92, 0.98);
        Assert.InRange(holdsP / n, 0.92, 0.98);
        Assert.True(given > 0.9 * n);
    }
}
