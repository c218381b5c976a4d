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
    [InlineData(6)]
    [InlineData(25)]
    public void Range_turns_the_draws_counts_the_linear_share_of_their_spread_and_leaves_open_what_silence_does(int wetlands)
    {
        // Nobody hears a in the sixth season, nor a and b in the eighth.
        var drawn = Drawn(11, ["99"], wetlands, 9, Frog("a"), Frog("b"), Frog("c"));
        int first = drawn.Surveys.Min(s => s.Date.Year);
        bool Silent(int season, string species) => (season - first, species) is (5, "a") or (7, "a") or (7, "b");
        var data = drawn with
        {
            Surveys = [.. drawn.Surveys.Select(s => s with { Calls = [.. s.Calls.Where(c => !Silent(s.Date.Year, c.Species.ToString()))] })],
        };
        var cells = CellTable.Build(data, null);
        var (settings, run) = (new ProgrammeSettings(), new RunOptions { Seed = 8, Resamples = 999 });
        var fit = AreaFit.Of(cells, new AreaTree(cells)[Code("99")], settings, run, new ThreadGauge(), new ParallelOptions { MaxDegreeOfParallelism = 1 });
        var group = GroupFit.Of(fit, [0, 1, 2], settings.Group, run.Resamples, new ParallelOptions { MaxDegreeOfParallelism = 1 });
        int checkedEnds = 0, opened = 0;
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
            // Of the wetlands that ever heard a species, the share that hears it in a baseline season, times those surveyed now: so many are silent.
            double[] missed =
            [
                .. new[] { "a", "b", "c" }.Where(k => !data.Surveys.Any(s => s.Date.Year == point.Season && s.Calls.Any(c => c.Species.ToString() == k && c.Level.Value > 0))).Select(k =>
                {
                    var at = data.Surveys.Where(s => s.Calls.Any(c => c.Species.ToString() == k)).Select(s => s.Station).ToHashSet();
                    int Of(int season, bool heard) => data.Surveys.Where(s => s.Date.Year == season && at.Contains(s.Station)
                        && (!heard || s.Calls.Any(c => c.Species.ToString() == k && c.Level.Value > 0))).Select(s => s.Station).Distinct().Count();
                    int[] baseline = [.. Enumerable.Range(first, settings.Baseline.FirstSeasons)];
                    return baseline.Sum(s => (double)Of(s, true)) / baseline.Sum(s => Of(s, false)) * Of(point.Season, false);
                }),
            ];
            // The rule of three, shared among the silent; three species, each a third of the geometric mean, the silent ones at 1 % in the index.
            // Both distances to the upper end count by their squares (Zou and Donner 2008).
            double open = missed.Sum(m => Math.Log(Math.Max(0.01, -Math.Log(0.05) / (missed.Length * m)) / 0.01)) / 3;
            double told = Math.Max(0, Math.Log(upper / point.Index!.Value));
            upper = open == 0 ? upper : point.Index.Value * Math.Exp(Math.Sqrt((told * told) + (open * open)));
            opened += missed.Length;
            Assert.Equal(lower, point.Lower!.Value, 1e-3 * lower);
            Assert.Equal(upper, point.Upper!.Value, 1e-3 * upper);
            checkedEnds += 2;
        }
        Assert.Equal(18, checkedEnds);
        Assert.InRange(opened, 3, 6);
    }
}
