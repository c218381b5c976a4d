using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;
using Xunit;

namespace Indicators.Statistics.Tests;

public sealed class FoldedInfluenceTests
{
    /// <summary>What folding many clusters into fewer groups leaves of the residuals' covariance: right on average, to √(2/groups).</summary>
    [Fact]
    public void Variances_of_folded_clusters_are_those_of_the_clusters_within_their_error()
    {
        const int Clusters = 6000, Periods = 6, Groups = 1024;
        uint counter = 0;
        double Uniform() => Philox.Block(counter++, 0, 0, 0, 11, 1).W0 / 4294967296.0;
        double[] counts = new double[Clusters * Periods], exposures = new double[counts.Length];
        for (int i = 0; i < counts.Length; i++)
            (counts[i], exposures[i]) = (Math.Floor(4 * Uniform()), 3);
        var panel = new PanelCounts([.. Enumerable.Range(0, Periods).Select(t => (double)t)], counts, exposures);
        double slope = TrendFit.Of(panel).Value;
        var residuals = SeasonResiduals.Of(panel, Periods, slope);
        double[] whole = residuals.Influence(panel, Periods, slope), folded = residuals.Influence(panel, Periods, slope, Groups);
        Assert.Equal((Clusters * Periods, Groups * Periods), (whole.Length, folded.Length));
        for (int t = 0; t < Periods; t++)
            Assert.InRange(Variance(folded, t) / Variance(whole, t), 1 - 4 * Math.Sqrt(2.0 / Groups), 1 + 4 * Math.Sqrt(2.0 / Groups));
    }

    private static double Variance(double[] draws, int period)
    {
        int n = draws.Length / 6;
        var own = draws.AsSpan(period * n, n).ToArray();
        double mean = own.Average();
        return own.Sum(x => (x - mean) * (x - mean)) / (n - 1);
    }
}
