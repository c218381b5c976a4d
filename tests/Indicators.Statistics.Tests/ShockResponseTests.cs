using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;
using Xunit;

namespace Indicators.Statistics.Tests;

/// <summary>How alike neighbouring seasons' shocks are, by the definition: no outside source beyond it; tests/reference/underlying has it in R for whole seasons.</summary>
public class ShockResponseTests
{
    private const int Resamples = 40;

    /// <summary>A_tu = δ_tu − Σ_s (μ_st/μ_t)(p_su + d_st h_u), matrix by matrix, with seasons missing.</summary>
    [Fact]
    public void Residuals_under_shocks_that_carry_over_come_to_what_the_matrices_say()
    {
        double[] times = [2010, 2011, 2014, 2015, 2016];
        double[][] counts = [[3, 5, 0, 2, 6], [1, 0, 4, 4, 2], [7, 6, 5, 8, 9]], exposure = [[3, 2, 3, 3, 3], [3, 3, 0, 2, 3], [1, 3, 3, 3, 3]];
        counts[1][2] = 0;
        const double slope = 0.07, correlation = 0.4;
        int n = times.Length;
        var panel = new PanelCounts(times, [.. counts.SelectMany(c => c)], [.. exposure.SelectMany(e => e)], [1, 1, 1], [0, 1, 2], 3);

        double[][] p = [.. exposure.Select(e => Shares([.. e.Select((x, t) => x * Math.Exp(slope * times[t]))]))];
        double[][] mu = [.. p.Select((shares, s) => shares.Select(share => share * counts[s].Sum()).ToArray())];
        double[][] d = [.. p.Select(shares => times.Select(t => t - shares.Zip(times, (a, b) => a * b).Sum()).ToArray())];
        double information = mu.Zip(d, (m, e) => m.Zip(e, (a, b) => a * b * b).Sum()).Sum();
        double[] total = [.. times.Select((_, t) => mu.Sum(m => m[t]))], h = [.. times.Select((_, t) => mu.Zip(d, (m, e) => m[t] * e[t]).Sum() / information)];
        double A(int t, int u) => (t == u ? 1 : 0) - Enumerable.Range(0, 3).Sum(s => mu[s][t] / total[t] * (p[s][u] + d[s][t] * h[u]));
        double Covariance(int t, int v) =>
            Enumerable.Range(0, n).Sum(u => Enumerable.Range(0, n).Sum(w => A(t, u) * Math.Pow(correlation, Math.Abs(times[u] - times[w])) * A(v, w)));

        var response = SeasonResiduals.Of(panel, n, slope).Response;
        Assert.Equal(Math.Sqrt(Enumerable.Range(0, n).Sum(t => Enumerable.Range(0, n).Sum(u => A(t, u) * A(t, u)))), Math.Sqrt(response.Squares(0)), 1e-12);
        Assert.Equal(Enumerable.Range(0, n).Sum(t => Covariance(t, t)), response.Squares(correlation), 1e-12);
        // 2010 and 2011, 2014 and 2015, 2015 and 2016; not 2011 and 2014.
        Assert.Equal(Covariance(0, 1) + Covariance(2, 3) + Covariance(3, 4), response.Neighbours(correlation), 1e-12);
    }

    [Fact]
    public void Springs_in_runs_carry_over_as_far_as_is_allowed_and_springs_in_turn_no_less_than_is() =>
        Assert.Equal([0.8, 0.1], new[] { CarryOver(t => t / 4 % 2, Every(1), 0), CarryOver(t => t % 2, Every(1), 0) });

    [Fact]
    public void Where_nothing_can_be_told_the_usual_correlation_is_taken()
    {
        // Every second year: no season has a neighbour. And residuals no larger than resampling makes them.
        Assert.Equal(SeasonCarryOver.Untold, CarryOver(t => t / 4 % 2, Every(2), 0));
        Assert.Equal(SeasonCarryOver.Untold, CarryOver(t => t / 4 % 2, Every(1), 5));
    }

    [Fact]
    public void What_is_known_better_is_taken_over()
    {
        var series = Series(t => t / 4 % 2, Every(1), 0);
        Assert.Equal(0.37, new UnderlyingSlopes([series], new double[Resamples], 0.37).CarryOver);
        // Springs that last longer leave less of themselves in the residuals, and move a slope more.
        var (little, much) = (new UnderlyingSlopes([series], Normals(), 0.1), new UnderlyingSlopes([series], Normals(), 0.8));
        Assert.True(much.SeasonSd(0) > little.SeasonSd(0) && much.Variances(0).Shocks > little.Variances(0).Shocks);
    }

    private static double[] Normals() => [.. Enumerable.Range(0, Resamples).Select(b => Intervals.Quantile.OfNormal((b + 0.5) / Resamples))];

    private static double[] Every(int years) => [.. Enumerable.Range(0, 16).Select(t => 2000.0 + years * t)];

    private static double CarryOver(Func<int, int> good, double[] times, double noise) =>
        new UnderlyingSlopes([Series(good, times, noise)], new double[Resamples]).CarryOver;

    /// <summary>Six wetlands alike, with half as much again in good springs; residual draws that swing by so much from one resample to the next.</summary>
    private static ShockSeries Series(Func<int, int> good, double[] times, double noise)
    {
        double[] counts = [.. times.Select((_, t) => good(t) == 1 ? 12.0 : 8)];
        var panel = new PanelCounts(
            times, [.. Enumerable.Repeat(counts, 6).SelectMany(c => c)], [.. Enumerable.Repeat(4.0, 6 * times.Length)], [1, 1, 1, 1, 1, 1], [0, 1, 2, 3, 4, 5], 6);
        double slope = TrendFit.Of(panel).Value;
        return new ShockSeries(
            slope, [.. Enumerable.Repeat(slope, Resamples)], SeasonResiduals.Of(panel, times.Length, slope),
            [.. times.SelectMany(_ => Enumerable.Range(0, Resamples).Select(b => b % 2 == 0 ? noise : -noise))], [.. times.Select(t => (int)t)], 6);
    }

    private static double[] Shares(double[] values) => [.. values.Select(v => v / values.Sum())];
}
