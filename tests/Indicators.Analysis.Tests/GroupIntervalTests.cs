using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Statistics.Intervals;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>The range of the group index against its definition in docs/methods.md, written out plainly over the same draws.</summary>
public sealed class GroupIntervalTests
{
    [Theory]
    [InlineData(6, 6)]
    [InlineData(25, 0)]
    public void Range_turns_the_draws_and_counts_the_linear_share_of_their_spread_and_is_none_where_the_floor_makes_its_end(int wetlands, int none)
    {
        var cells = CellTable.Build(Drawn(11, ["99"], wetlands, 9, Frog("a"), Frog("b"), Frog("c")), null);
        var (settings, run) = (new ProgrammeSettings(), new RunOptions { Seed = 8, Resamples = 999 });
        var fit = AreaFit.Of(cells, new AreaTree(cells)[Code("99")], settings, run, new ThreadGauge(), new ParallelOptions { MaxDegreeOfParallelism = 1 });
        var group = GroupFit.Of(fit, [0, 1, 2], settings.Group, run.Resamples, 1);
        int checkedEnds = 0, without = 0;
        foreach (var (point, t) in group.Points(Code("99"), SpeciesGroup.All, settings.Trend).Select((point, t) => (point, t)))
        {
            double[] logs = [.. Enumerable.Range(0, run.Resamples).Select(b => group.Draws[b * group.Seasons.Length + t])];
            double mean = logs.Average(), variance = logs.Sum(x => (x - mean) * (x - mean)) / (logs.Length - 1);
            var times = new double[wetlands, run.Resamples];
            var one = new int[wetlands];
            for (int b = 0; b < run.Resamples; b++)
            {
                fit.Plan.Draw(b, one);
                for (int j = 0; j < wetlands; j++)
                    times[j, b] = one[j];
            }
            double linear = Enumerable.Range(0, wetlands).Sum(j => Math.Pow(Enumerable.Range(0, run.Resamples).Average(b => (times[j, b] - 1) * (logs[b] - mean)), 2));
            double share = Math.Sqrt(Math.Min(1, (linear - (double)wetlands / run.Resamples * variance) / variance));

            double k = group.Clusters, stretch = Math.Sqrt(k / (k - 1)) * Quantile.OfStudentT(0.975, k - 1) / Quantile.OfNormal(0.975);
            double centre = group.LogIndex[t] - share * share * (mean - group.LogIndex[t]);
            double[] ends = [.. logs.Select(x => 100 * Math.Exp(centre - stretch * share * (x - mean)))];
            Array.Sort(ends);
            double lower = SampleQuantile.Type6(ends, 0.025), upper = SampleQuantile.Type6(ends, 0.975);
            // Three species: one at 1 % of its baseline moves their geometric mean 4.6-fold.
            int atFloor = Enumerable.Range(0, run.Resamples).Count(b => fit.Species.Any(one => one.IndexDraws[b * group.Seasons.Length + t] <= Math.Log(0.01)));
            if (atFloor > 0.025 * run.Resamples && upper > 4 * point.Index)
            {
                Assert.Equal((null, null), (point.Lower, point.Upper));
                without++;
                continue;
            }
            Assert.Equal(lower, point.Lower!.Value, 1e-3 * lower);
            Assert.Equal(upper, point.Upper!.Value, 1e-3 * upper);
            checkedEnds += 2;
        }
        Assert.Equal(none, without);
        Assert.Equal(18, checkedEnds + 2 * without);
    }
}
