using Indicators.Statistics.Groups;
using Indicators.Statistics.Resampling;
using Xunit;

namespace Indicators.Statistics.Tests;

public class AdditiveIndexTests
{
    private static double[] Course(double[] values, int series, bool[]? anchors = null)
    {
        int periods = values.Length / series;
        var course = new double[periods];
        new AdditiveIndex(series, periods).Fit(values, anchors ?? [.. Enumerable.Repeat(true, series)], course);
        return course;
    }

    [Fact]
    public void Complete_table_is_the_geometric_mean()
    {
        // Three series 10,12,8,20; 50,25,25,50; 4,4,2,1: no published worked example was found; the numbers are the geometric
        // means computed apart (checks of the project, small.csv).
        double[] raw = [10, 12, 8, 20, 50, 25, 25, 50, 4, 4, 2, 1];
        double[] logs = [.. raw.Select((v, i) => Math.Log(v / raw[i / 4 * 4]))];
        double[] expected = [100, 84.3432665302, 58.4803547643, 79.3700525984];
        Assert.All(Course(logs, 3).Zip(expected), p => Assert.Equal(p.Second, 100 * Math.Exp(p.First), 1e-9));
    }

    [Fact]
    public void Late_series_that_moves_alike_changes_nothing()
    {
        double[] course = [0, -0.1, -0.3, -0.2, -0.6];
        double[] late = [double.NaN, double.NaN, 0.7 - 0.3, 0.7 - 0.2, 0.7 - 0.6];
        var fitted = Course([.. course, .. late], 2, [true, false]);
        for (int t = 0; t < 5; t++)
            Assert.Equal(course[t], fitted[t], 1e-12);
    }

    [Fact]
    public void Periods_without_a_chain_to_the_anchors_have_no_value()
    {
        double[] table = [1, 2, double.NaN, double.NaN, double.NaN, double.NaN, 5, 6];
        var fitted = Course(table, 2, [true, false]);
        Assert.Equal([1.0, 2.0], fitted[..2]);
        Assert.All(fitted[2..], v => Assert.True(double.IsNaN(v)));
    }

    [Fact]
    public void Contributions_add_up_to_the_course()
    {
        double[] table = [0, -0.2, 0.4, double.NaN, 0, 0.1, double.NaN, 0.6, double.NaN, 0, 0.3, -0.4];
        bool[] anchors = [true, true, false];
        var fitted = Course(table, 3, anchors);
        var parts = new AdditiveIndex(3, 4).Contributions(table, anchors);
        for (int t = 0; t < 4; t++)
            Assert.Equal(fitted[t], parts.Sum(p => p[t]), 1e-12);
    }

    [Fact]
    public void Workspace_used_again_answers_as_a_new_one_whatever_is_missing()
    {
        const int series = 4, periods = 6;
        var again = new AdditiveIndex(series, periods);
        for (uint table = 0; table < 60; table++)
        {
            // Every pattern of missing cells stands twice in a row, with other values and then other anchors.
            var values = new double[series * periods];
            for (uint i = 0; i < values.Length; i++)
            {
                bool missing = Philox.Block(i, table / 3, 0, 0, 5, 0).W0 % 10 < 4;
                values[i] = missing ? double.NaN : Philox.Block(i, table, 1, 0, 5, 0).W0 / 4294967296.0;
            }
            bool[] anchors = [table % 3 != 2, true, false, table % 3 == 2];
            double[] first = new double[periods], second = new double[periods];
            new AdditiveIndex(series, periods).Fit(values, anchors, first);
            again.Fit(values, anchors, second);
            Assert.Equal(first, second);
        }
    }

    [Fact]
    public void Logarithmic_mean_turns_log_ratio_into_difference()
    {
        Assert.Equal(30, LogarithmicMean.Of(130, 100) * Math.Log(1.3), 1e-12);
        Assert.Equal(100, LogarithmicMean.Of(100, 100));
    }
}
