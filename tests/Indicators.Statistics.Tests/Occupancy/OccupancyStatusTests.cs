using Indicators.Statistics.Occupancy;
using Xunit;

namespace Indicators.Statistics.Tests.Occupancy;

/// <summary>What must be answered where the maximum is at 0 or 1, or nothing is known.</summary>
public class OccupancyStatusTests
{
    [Fact]
    public void Never_detected_is_said_and_not_estimated()
    {
        var fit = SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(5, new double[15]));
        Assert.Equal(OccupancyStatus.NeverDetected, fit.Status);
        Assert.False(fit.HasEstimates);
        Assert.Null(fit.Occupancy(0));
        Assert.Null(fit.Detection(0));
        Assert.All(fit.Parameters, p => Assert.Equal((EstimateStatus.NotEstimable, null, null), (p.Status, p.Estimate, p.StandardError)));
        Assert.Null(ParameterDraws.Of(fit, 10, 1, 1));
        Assert.Null(ProfileInterval.Of(DetectionHistories.FromTable(5, new double[15]), fit, 0));
    }

    [Fact]
    public void One_visit_a_site_does_not_tell_missed_from_empty()
    {
        var fit = SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(6, [1, 0, 0, 1, 0, 0]));
        Assert.Equal(OccupancyStatus.NotIdentified, fit.Status);
        Assert.Equal(4 * Math.Log(2.0 / 3) + 2 * Math.Log(1.0 / 3), fit.LogLikelihood, 1e-9);
        Assert.All(fit.Parameters, p => Assert.Equal(EstimateStatus.NotEstimable, p.Status));
        Assert.Null(fit.Occupancy(0));
    }

    /// <summary>
    /// A species in (nearly) every site, one visit a season that hears it half the time: there is a maximum where every visit hears it and sites come and go at
    /// random, 0.6 below the highest, and in the second table one inside all bounds, 1.1 below. The highest is that of L-BFGS-B (scipy 1.10) from 61
    /// random starts on an independent likelihood.
    /// </summary>
    [Theory]
    [InlineData(
        "0000100001 0000110110 0001101010 0001110110 0010010110 0010010111 0010011111 0010111100 0011011111 0100010011 0100101001 0101001001 0101001110 "
        + "0101111111 0110001010 0110011010 0111000111 0111110010 1000000001 1010001100 1010110000 1010110000 1011000101 1011011100 1100000000 1100000100 "
        + "1100001010 1100100111 1100111110 1101100000 1101110101 1110110011 1111001010 1111001111 1111010001 1111111001",
        -248.59192507, 0.52594776)]
    [InlineData(
        "000000000000 000100011111 001000000001 001010110001 010010000010 010100000011 010110001101 011011100110 100001100110 100011100111 "
        + "101011001011 101011011000 110001101111 110001110000 110010000101 110011011000 110011100011 111001101101 111111000010 111111011110",
        -162.00321598, 0.49987758)]
    public void Highest_of_several_maxima_is_found_with_one_visit_a_season(string sites, double logLikelihood, double p)
    {
        string[] histories = sites.Split(' ');
        int seasons = histories[0].Length;
        Visit[] visits = [.. histories.SelectMany((history, site) => history.Select((heard, season) => new Visit(site, season, heard == '1', 0)))];
        var fit = MultiSeasonOccupancy.Fit(new DetectionHistories(histories.Length, seasons, visits), TransitionGroups.Constant(seasons));
        Assert.Equal(logLikelihood, fit.LogLikelihood, 1e-6);
        Assert.Equal(p, fit.Detection(0)!.Value.Value, 1e-4);
    }

    [Fact]
    public void Everything_detected_everywhere_is_one_and_one_without_intervals()
    {
        var fit = SingleSeasonOccupancy.Fit(DetectionHistories.FromTable(3, [1, 1, 1, 1, 1, 1]));
        Assert.Equal(OccupancyStatus.Boundary, fit.Status);
        Assert.All(fit.Parameters, p => Assert.Equal(EstimateStatus.AtOne, p.Status));
        Assert.Equal(0, fit.LogLikelihood);
        Assert.Equal(new ProbabilityEstimate(1, null, null), fit.Occupancy(0));
        Assert.False(fit.HasCovariance);
    }

    [Fact]
    public void Slot_that_never_detects_is_zero_and_tells_nothing()
    {
        var (visits, _, _) = new World(60, 1, 3, 0.6, 0, 0, [0.5]).Draw(1);
        var plain = SingleSeasonOccupancy.Fit(new DetectionHistories(60, 1, visits));
        Visit[] deaf = [.. visits, .. Enumerable.Range(0, 60).Select(s => new Visit(s, 0, false, 1))];
        var fit = SingleSeasonOccupancy.Fit(new DetectionHistories(60, 1, deaf, 2));
        Assert.Equal(OccupancyStatus.Boundary, fit.Status);
        Assert.Equal((EstimateStatus.AtZero, double.NegativeInfinity), (fit.Parameters[2].Status, fit.Parameters[2].Estimate));
        Assert.Equal(new ProbabilityEstimate(0, null, null), fit.Detection(1));
        Assert.Equal(plain.LogLikelihood, fit.LogLikelihood, 1e-10);
        Assert.Equal(plain.Occupancy(0)!.Value.Interval!.Value.Upper, fit.Occupancy(0)!.Value.Interval!.Value.Upper, 1e-9);
    }

    [Fact]
    public void Slot_that_nobody_visited_is_not_estimable()
    {
        var (visits, _, _) = new World(60, 1, 3, 0.6, 0, 0, [0.5]).Draw(1);
        var fit = SingleSeasonOccupancy.Fit(new DetectionHistories(60, 1, visits, 2));
        Assert.Equal(OccupancyStatus.NotIdentified, fit.Status);
        Assert.Equal([EstimateStatus.Interior, EstimateStatus.Interior, EstimateStatus.NotEstimable], fit.Parameters.Select(p => p.Status));
    }

    [Fact]
    public void Nothing_ever_lost_has_extinction_zero_and_no_interval_where_it_matters()
    {
        // Twelve sites, three seasons, two visits: eight occupied and always detected at least once; four of them from the second season on.
        var visits = new List<Visit>();
        for (int s = 0; s < 12; s++)
            for (int t = 0; t < 3; t++)
                for (int v = 0; v < 2; v++)
                    visits.Add(new Visit(s, t, s < 8 && (s < 4 || t > 0) && (v == 0 || s % 2 == 0)));
        var fit = MultiSeasonOccupancy.Fit(new DetectionHistories(12, 3, visits.ToArray()), TransitionGroups.Constant(3));
        Assert.Equal(OccupancyStatus.Boundary, fit.Status);
        Assert.Equal(EstimateStatus.AtZero, fit.Parameters[fit.Layout.FirstExtinction].Status);
        Assert.Equal(0, fit.Extinction(0)!.Value.Value);
        Assert.NotNull(fit.Occupancy(0)!.Value.Interval);
        Assert.Null(fit.Occupancy(1)!.Value.Interval);
        Assert.True(fit.Occupancy(2)!.Value.Value > fit.Occupancy(1)!.Value.Value);
        // No finite rate does better.
        var likelihood = new OccupancyLikelihood(new DetectionHistories(12, 3, visits.ToArray()), fit.Groups);
        double[] point = fit.Point.ToArray();
        foreach (double logit in new[] { -15, -10, -6, -4, -2, 0 })
        {
            point[fit.Layout.FirstExtinction] = logit;
            Assert.True(likelihood.Value(point) < fit.LogLikelihood);
        }
    }

    [Fact]
    public void Season_nobody_surveyed_leaves_its_own_two_intervals_undetermined()
    {
        var (visits, _, _) = new World(200, 4, 3, 0.5, 0.3, 0.3, [0.6]).Draw(3);
        Visit[] gap = [.. visits.Where(v => v.Season != 2)];
        var own = MultiSeasonOccupancy.Fit(new DetectionHistories(200, 4, gap), TransitionGroups.ByInterval(4));
        Assert.Equal(OccupancyStatus.NotIdentified, own.Status);
        Assert.Equal(EstimateStatus.Interior, own.Parameters[own.Layout.FirstColonisation].Status);
        Assert.Equal(EstimateStatus.NotEstimable, own.Parameters[own.Layout.FirstColonisation + 1].Status);
        Assert.Equal(OccupancyStatus.Interior, MultiSeasonOccupancy.Fit(new DetectionHistories(200, 4, gap), TransitionGroups.Constant(4)).Status);
    }

    [Fact]
    public void Covariate_that_splits_the_data_is_said_to()
    {
        // Detected whenever the covariate is positive, never when negative.
        var (visits, _, _) = new World(60, 1, 4, 0.6, 0, 0, [0.5]).Draw(4);
        double[] x = [.. visits.Select(v => v.Detected ? 1.0 : -1)];
        Assert.Equal(OccupancyStatus.Separated, SingleSeasonOccupancy.Fit(new DetectionHistories(60, 1, visits, 1, x)).Status);
    }

    [Fact]
    public void Profile_of_an_estimate_of_one_has_a_lower_end()
    {
        double[] table = [1, 0, 0, 1, 1, 0, 0, 1, 1, 0, 1, 0, 0, 1, 1, 0, 1, 0, 0, 1];
        var histories = DetectionHistories.FromTable(10, table);
        var fit = SingleSeasonOccupancy.Fit(histories);
        Assert.Equal(EstimateStatus.AtOne, fit.Parameters[0].Status);
        var interval = ProfileInterval.Of(histories, fit, 0)!.Value;
        Assert.Equal(1, interval.Upper);
        // At the lower end twice the loss is the 95 % point of chi-square with one degree of freedom; p there by a fine grid.
        var likelihood = new OccupancyLikelihood(histories, TransitionGroups.None);
        double logit = Math.Log(interval.Lower / (1 - interval.Lower));
        double best = Enumerable.Range(-4000, 8000).Max(i => likelihood.Value([logit, i / 1000.0]));
        Assert.Equal(3.841458820694124, 2 * (fit.LogLikelihood - best), 1e-5);
    }

    [Fact]
    public void Histories_refuse_what_cannot_be()
    {
        Assert.Throws<ArgumentException>(() => new DetectionHistories(1, 1, [new Visit(1, 0, true)]));
        Assert.Throws<ArgumentException>(() => new DetectionHistories(1, 1, [new Visit(0, 0, true)], 1, [double.NaN]));
        Assert.Throws<ArgumentException>(() => new DetectionHistories(1, 1, [new Visit(0, 0, true)], weights: [-1]));
        Assert.Throws<ArgumentException>(() => new TransitionGroups([0, 2], [0, 0]));
        Assert.Throws<ArgumentException>(() => DetectionHistories.FromTable(1, [2]));
    }
}
