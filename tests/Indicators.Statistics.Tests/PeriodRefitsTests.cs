using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class PeriodRefitsTests
{
    private const int Seasons = 11, Stations = 19, Wetlands = 12;
    private static readonly bool[] Baseline = [.. Enumerable.Range(0, Seasons).Select(t => t < 3)];

    /// <param name="key">Which draw.</param>
    /// <param name="silentSeason">Season 7 has no counts.</param>
    /// <param name="fewHeard">Only so many stations hear anything in seasons 4 and 9, so that resamples lose them.</param>
    private static PanelCounts Panel(uint key, bool silentSeason, int fewHeard = Stations)
    {
        uint counter = 0;
        double Uniform() => Philox.Block(counter++, 0, 0, 0, key, 4).W0 / 4294967296.0;
        double[] y = new double[Stations * Seasons], n = new double[y.Length];
        for (int s = 0; s < Stations; s++)
        {
            double loud = 3 * Uniform();
            for (int t = 0; t < Seasons; t++)
            {
                n[s * Seasons + t] = Uniform() < 0.2 ? 0 : 1 + (int)(3 * Uniform());
                if (n[s * Seasons + t] > 0 && !(silentSeason && t == 7) && (s < fewHeard || t is not (4 or 9)))
                    y[s * Seasons + t] = Math.Floor(n[s * Seasons + t] * loud * 2 * Uniform());
            }
        }
        return new PanelCounts(
            [.. Enumerable.Range(0, Seasons).Select(t => 2010.0 + t)], y, n,
            [.. Enumerable.Range(0, Stations).Select(s => 1 + s % 3 * 0.5)], [.. Enumerable.Range(0, Stations).Select(s => s % Wetlands)], Wetlands);
    }

    [Theory]
    [InlineData(1u, false, Stations, 0)]
    [InlineData(2u, false, Stations, 0)]
    [InlineData(3u, true, Stations, 0)]
    [InlineData(5u, false, 2, 40)]
    [InlineData(6u, true, 2, 100)]
    [InlineData(7u, true, 3, 50)]
    public void Four_at_once_end_where_each_by_itself_ends(uint key, bool silentSeason, int fewHeard, int losing)
    {
        var panel = Panel(key, silentSeason, fewHeard);
        var four = new PeriodRefits(panel, Baseline);
        var alone = new PeriodFit(panel);
        var plan = new ResamplingPlan(9, key, Wetlands);
        Resample[] samples = [.. Enumerable.Range(0, PeriodRefits.Lanes).Select(_ => new Resample(panel))];
        int compared = 0, lost = 0;
        for (int b = 0; b < 400; b += PeriodRefits.Lanes)
        {
            bool all = true;
            for (int lane = 0; lane < PeriodRefits.Lanes; lane++)
            {
                var multiplicities = new int[Wetlands];
                plan.Draw(b + lane, multiplicities);
                samples[lane].Fill(multiplicities);
                all &= four.Takes(samples[lane], alone.Compare(samples[lane], Baseline).Linked);
                four.Put(lane, samples[lane], multiplicities);
            }
            if (!all)
                continue;
            var (one, two, three, last) = four.Fit(1e-9);
            bool[] fitted = [one, two, three, last];
            for (int lane = 0; lane < PeriodRefits.Lanes; lane++)
            {
                // A resample far from the sample takes too many steps and says so; the engine then fits it by itself.
                if (!fitted[lane])
                    continue;
                Assert.True(alone.Fit(samples[lane], Baseline, default, 1e-13));
                int first = Enumerable.Range(0, Seasons).First(t => alone.StatusOf(t) == PeriodStatus.Linked);
                for (int t = first + 1; t < Seasons; t++)
                    if (alone.StatusOf(t) == PeriodStatus.Linked)
                        Assert.Equal(alone.Effects[t] - alone.Effects[first], four.Effect(lane, t) - four.Effect(lane, first), 1e-7);
                compared++;
                lost += alone.Linked != four.Linked ? 1 : 0;
            }
        }
        Assert.InRange(compared, 200, 400);
        // Of these, resamples with a season that only the sample heard.
        Assert.InRange(lost, losing, 400);
    }

    [Fact]
    public void Lane_neighbours_change_nothing_but_the_last_digits()
    {
        var panel = Panel(4, false);
        var plan = new ResamplingPlan(9, 4, Wetlands);
        double Effect(int neighbour)
        {
            var four = new PeriodRefits(panel, Baseline);
            foreach (var (lane, b) in new[] { (0, 1), (1, neighbour) })
            {
                var multiplicities = new int[Wetlands];
                plan.Draw(b, multiplicities);
                var sample = new Resample(panel);
                sample.Fill(multiplicities);
                four.Put(lane, sample, multiplicities);
            }
            four.Repeat(1, 2);
            four.Repeat(1, 3);
            Assert.True(four.Fit(1e-8).Item1);
            return four.Effect(0, 5) - four.Effect(0, 0);
        }
        Assert.Equal(Effect(2), Effect(3), 1e-6);
    }

    [Fact]
    public void What_is_left_where_little_is_heard_is_of_the_order_of_the_tolerance()
    {
        const int seasons = 20, stations = 9;
        bool[] baseline = [.. Enumerable.Range(0, seasons).Select(t => t < 3)];
        double worst = 0;
        int compared = 0;
        for (uint key = 20; key < 60; key++)
        {
            uint counter = 0;
            double Uniform() => Philox.Block(counter++, 0, 0, 0, key, 4).W0 / 4294967296.0;
            double[] y = new double[stations * seasons], n = new double[y.Length];
            for (int s = 0; s < stations; s++)
            {
                double loud = Math.Pow(Uniform(), 3);
                for (int t = 0; t < seasons; t++)
                {
                    n[s * seasons + t] = Uniform() < 0.3 ? 0 : 3;
                    for (int visit = 0; visit < 3 && n[s * seasons + t] > 0; visit++)
                        y[s * seasons + t] += Uniform() < loud ? 1 + Math.Floor(3 * Uniform()) : 0;
                }
            }
            var panel = new PanelCounts([.. Enumerable.Range(0, seasons).Select(t => 2000.0 + t)], y, n);
            PeriodRefits four = new(panel, baseline);
            var alone = new PeriodFit(panel);
            var plan = new ResamplingPlan(9, key, stations);
            var sample = new Resample(panel);
            var multiplicities = new int[stations];
            for (int b = 0; b < 200; b++)
            {
                plan.Draw(b, multiplicities);
                sample.Fill(multiplicities);
                if (!four.Takes(sample, alone.Compare(sample, baseline).Linked))
                    continue;
                four.Put(0, sample, multiplicities);
                for (int lane = 1; lane < PeriodRefits.Lanes; lane++)
                    four.Repeat(0, lane);
                if (!four.Fit().Item1)
                    continue;
                Assert.True(alone.Fit(sample, baseline, default, 1e-12));
                int[] linked = [.. Enumerable.Range(0, seasons).Where(t => alone.StatusOf(t) == PeriodStatus.Linked)];
                double apart = linked.Average(t => alone.Effects[t] - four.Effect(0, t));
                worst = Math.Max(worst, linked.Max(t => Math.Abs(alone.Effects[t] - four.Effect(0, t) - apart)));
                compared++;
            }
        }
        Assert.InRange(compared, 2000, 8000);
        // Six times the default tolerance.
        Assert.InRange(worst, 0, 6e-4);
    }
}
