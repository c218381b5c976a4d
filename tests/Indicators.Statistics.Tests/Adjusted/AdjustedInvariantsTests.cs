using Indicators.Statistics.Adjusted;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests.Adjusted;

/// <summary>What must not change an adjusted fit, what must change it in a known way, and what has none.</summary>
public class AdjustedInvariantsTests
{
    private static readonly VisitData Data = Keep(AdjustedReferenceTests.Case("simulated").Data, [0, 2, 4]);
    private static readonly bool[] Reference = [.. Data.Seasons.Select((_, t) => t < 3)];

    public static TheoryData<AdjustedModel> Models => [AdjustedModel.Trend, AdjustedModel.Annual];

    private static VisitData Keep(VisitData data, int[] columns) =>
        data with { Covariates = [.. data.Covariates.Select(row => columns.Select(c => row[c]).ToArray())] };

    /// <summary>Everything that must agree: slope or ratios to the first period, then the effects of the covariates.</summary>
    private static double[] Fit(VisitPanel visits, AdjustedModel model, Resample? sample = null)
    {
        var fit = new AdjustedFit(visits, model);
        Assert.Equal(AdjustedStatus.Finite, fit.Fit(sample ?? new Resample(visits.Panel), Reference, null, 1e-12));
        return Values(fit, model);
    }

    private static double[] Values(AdjustedFit fit, AdjustedModel model)
    {
        double[] effects = fit.Effects.ToArray();
        return model == AdjustedModel.Trend
            ? [fit.Slope, .. fit.Coefficients]
            : [.. effects.Select(e => e - effects[0]), .. fit.Coefficients];
    }

    private static void Same(double[] expected, double[] actual, double tolerance = 1e-10)
    {
        Assert.Equal(expected.Length, actual.Length);
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], actual[i], tolerance);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Order_of_visits_and_common_weights_change_nothing(AdjustedModel model)
    {
        int[] shuffled = [.. Enumerable.Range(0, Data.Units.Length).OrderBy(i => Philox.Block((uint)i, 0, 0, 0, 4, 0).W0)];
        double[] plain = Fit(Data.ToVisits(), model);
        Same(plain, Fit(Data.Ordered(shuffled).ToVisits(), model));
        Same(plain, Fit((Data with { Weights = [.. Data.Weights.Select(w => 250 * w)] }).ToVisits(), model));
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Origin_and_unit_of_a_covariate_change_only_its_scale(AdjustedModel model)
    {
        var moved = Data with { Covariates = [.. Data.Covariates.Select(row => new[] { row[0] + 1000, row[1] * 1.8 + 32, -row[2] })] };
        double[] plain = Fit(Data.ToVisits(), model), other = Fit(moved.ToVisits(), model);
        other[^1] = -other[^1];
        Same(plain, other);
        VisitPanel before = Data.ToVisits(), after = moved.ToVisits();
        Assert.Equal(before.Covariates[0].Mean + 1000, after.Covariates[0].Mean, 1e-9);
        Assert.Equal(before.Covariates[1].StandardDeviation * 1.8, after.Covariates[1].StandardDeviation, 1e-9);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Multiplicities_equal_clusters_written_out(AdjustedModel model)
    {
        var visits = Data.ToVisits();
        int[] draw = [.. Enumerable.Range(0, visits.Panel.ClusterCount).Select(c => (c + 1) % 3)];
        var sample = new Resample(visits.Panel);
        sample.Fill(draw);
        double[] resampled = Fit(visits, model, sample);

        // Every copy of a cluster's unit becomes a unit of its own. Standardised beforehand, on the scale of the whole sample,
        // then corrected for the scale that the written-out visits are given again.
        int units = Data.Weights.Length;
        int[] order = [.. Enumerable.Range(0, Data.Units.Length).SelectMany(v => Enumerable.Repeat(v, draw[Data.Clusters[Data.Units[v]]]))];
        int[] copy = [.. Enumerable.Range(0, Data.Units.Length).SelectMany(v => Enumerable.Range(0, draw[Data.Clusters[Data.Units[v]]]))];
        double[][] filled = [.. Data.Covariates.Select(row => row.Select((x, j) => double.IsNaN(x) ? visits.Covariates[j].Mean : x).ToArray())];
        var written = (Data with { Covariates = filled }).Ordered(order);
        written = written with
        {
            Units = [.. written.Units.Select((u, i) => u + units * copy[i])],
            Weights = [.. Enumerable.Range(0, 3).SelectMany(_ => Data.Weights)],
            Clusters = [.. Enumerable.Range(0, 3 * units)],
        };
        var writtenVisits = written.ToVisits();
        double[] expected = Fit(writtenVisits, model);
        for (int j = 0; j < 3; j++)
            expected[^(3 - j)] *= visits.Covariates[j].StandardDeviation / writtenVisits.Covariates[j].StandardDeviation;
        Same(expected, resampled);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Warm_and_cold_starts_end_at_the_same_place(AdjustedModel model)
    {
        var visits = Data.ToVisits();
        var start = AdjustedFit.Of(visits, model, Reference).ToStart();
        var plan = new ResamplingPlan(5, 1, visits.Panel.ClusterCount);
        var draw = new int[visits.Panel.ClusterCount];
        var sample = new Resample(visits.Panel);
        AdjustedFit warm = new(visits, model), cold = new(visits, model);
        int finite = 0;
        for (int b = 0; b < 150; b++)
        {
            plan.Draw(b, draw);
            sample.Fill(draw);
            var status = cold.Fit(sample, Reference, null, 1e-12);
            Assert.Equal(status, warm.Fit(sample, Reference, start));
            if (status != AdjustedStatus.Finite)
                continue;
            finite++;
            Same(Values(cold, model), Values(warm, model), 1e-5);
            Assert.True(warm.Hessians <= 6, $"{warm.Hessians}");
        }
        Assert.InRange(finite, 140, 150);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Refits_allocate_nothing(AdjustedModel model)
    {
        var visits = Data.ToVisits();
        var start = AdjustedFit.Of(visits, model, Reference).ToStart();
        var plan = new ResamplingPlan(5, 1, visits.Panel.ClusterCount);
        var draw = new int[visits.Panel.ClusterCount];
        var sample = new Resample(visits.Panel);
        var fit = new AdjustedFit(visits, model);
        void Refit(int b)
        {
            plan.Draw(b, draw);
            sample.Fill(draw);
            fit.Fit(sample, Reference, start);
        }
        Refit(0);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int b = 1; b < 20; b++)
            Refit(b);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void A_covariate_that_adds_nothing_is_held_and_said(AdjustedModel model)
    {
        // Constant everywhere; constant within units; all missing; the season itself; twice the temperature.
        var more = Data with
        {
            Covariates = [.. Data.Covariates.Select((row, v) => new[]
            {
                row[0], row[1], row[2], 7, Data.Units[v] % 5, double.NaN, Data.Seasons[Data.Periods[v]] + Data.Units[v], 2 * row[1],
            })],
        };
        var visits = more.ToVisits();
        var fit = AdjustedFit.Of(visits, model, Reference);
        Assert.Equal(AdjustedStatus.Finite, fit.Status);
        Assert.Equal([true, true, true, false, false, false, false, false], Enumerable.Range(0, 8).Select(fit.IsEstimable));
        Assert.All(fit.Coefficients[3..].ToArray(), c => Assert.Equal(0, c));
        Assert.Equal(Data.Units.Length, visits.Covariates[5].Missing);
        Same(Fit(Data.ToVisits(), model), Values(fit, model)[..^5]);
        Assert.All(Enumerable.Range(3, 5), j => Assert.Equal(0, fit.ModelCovariance(new Resample(visits.Panel))[fit.IndexOf(j), fit.IndexOf(j)]));
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void A_resample_that_loses_a_covariate_is_fitted_without_it(AdjustedModel model)
    {
        // Only cluster 0 ever has anything but 0 in the last column.
        var rare = Data with { Covariates = [.. Data.Covariates.Select((row, v) => new[] { row[0], row[1], Data.Clusters[Data.Units[v]] == 0 ? v % 3 : 0 })] };
        var visits = rare.ToVisits();
        var whole = AdjustedFit.Of(visits, model, Reference);
        Assert.True(whole.IsEstimable(2));
        var sample = new Resample(visits.Panel);
        sample.FillWithout(0, new int[visits.Panel.ClusterCount]);
        var fit = new AdjustedFit(visits, model);
        Assert.Equal(AdjustedStatus.Finite, fit.Fit(sample, Reference, whole.ToStart(), 1e-12));
        Assert.False(fit.IsEstimable(2));
        var without = Keep(rare, [0, 1]).ToVisits();
        var other = new Resample(without.Panel);
        other.FillWithout(0, new int[without.Panel.ClusterCount]);
        Same(Fit(without, model, other), Values(fit, model)[..^1]);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Separation_by_a_covariate_is_said(AdjustedModel model)
    {
        // Everywhere the calling visits are those of warm evenings: the effect of warmth is infinite.
        double[][] warmth = [.. Data.Counts.Select((y, v) => new[] { Data.Covariates[v][0], y > 0 ? 1.0 : 0 })];
        var visits = (Data with { Covariates = warmth }).ToVisits();
        Assert.Equal(AdjustedStatus.Separated, AdjustedFit.Of(visits, model, Reference).Status);
    }

    [Fact]
    public void Trends_and_courses_that_do_not_exist_are_said()
    {
        var early = new VisitData([1, 2, 3], [0, 0, 0, 1, 1], [0, 1, 2, 0, 2], [3, 0, 0, 2, 0], [[1], [2], [1], [3], [1]], [1, 1], [0, 1]);
        Assert.Equal(AdjustedStatus.MinusInfinity, AdjustedFit.Of(early.ToVisits(), AdjustedModel.Trend).Status);
        var silent = early with { Counts = [0, 0, 0, 0, 0] };
        Assert.Equal(AdjustedStatus.None, AdjustedFit.Of(silent.ToVisits(), AdjustedModel.Trend).Status);
        Assert.Equal(AdjustedStatus.None, AdjustedFit.Of(silent.ToVisits(), AdjustedModel.Annual, [true, true, true]).Status);
        Assert.Equal(0, silent.ToVisits().InformativeVisits);
    }

    [Fact]
    public void A_silent_season_is_forced_to_zero_and_the_rest_fitted_without_it()
    {
        var data = new VisitData(
            [1, 2, 3], [0, 0, 0, 0, 1, 1, 1], [0, 0, 1, 2, 0, 1, 2], [3, 1, 2, 0, 2, 2, 0], [[1], [2], [1], [3], [1], [5], [2]], [1, 1], [0, 1]);
        var visits = data.ToVisits();
        var fit = AdjustedFit.Of(visits, AdjustedModel.Annual, [true, true, true]);
        Assert.Equal(AdjustedStatus.Finite, fit.Status);
        Assert.Equal([PeriodStatus.Linked, PeriodStatus.Linked, PeriodStatus.ForcedToZero], Enumerable.Range(0, 3).Select(fit.StatusOf));
        var two = (data.Ordered([0, 1, 2, 4, 5]) with { Seasons = [1, 2] }).ToVisits();
        var other = AdjustedFit.Of(two, AdjustedModel.Annual, [true, true]);
        // Per unit of the covariate both say the same; the standard deviations differ by the visits of the third season.
        Assert.Equal(
            other.Coefficients[0] / two.Covariates[0].StandardDeviation, fit.Coefficients[0] / visits.Covariates[0].StandardDeviation, 1e-10);
        Assert.Equal(other.Effects[1] - other.Effects[0], fit.Effects[1] - fit.Effects[0], 1e-10);
    }

    [Fact]
    public void Visits_that_do_not_add_up_to_the_panel_are_refused()
    {
        var panel = Data.ToPanel();
        double[] wrong = [.. Data.Counts];
        wrong[0]++;
        Assert.Throws<ArgumentException>(() => new VisitPanel(panel, Data.Units, Data.Periods, wrong, default, 0));
        Assert.Throws<ArgumentException>(() => new VisitPanel(panel, Data.Units.AsSpan(1), Data.Periods.AsSpan(1), Data.Counts.AsSpan(1), default, 0));
    }
}
