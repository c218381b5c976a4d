using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Shocks;

/// <summary>
/// A standard error of a trend's slope that allows for counts that go together within a cluster, whatever the periods, and
/// within a period, whatever the clusters: the second way to what <see cref="UnderlyingSlopes"/> answers, from another idea.
/// </summary>
/// <remarks>
/// Cameron, Gelbach and Miller 2011: V = V(clusters) + V(periods) − V(cluster × period). With unit effects profiled out the
/// influence of a cell on the slope is w_s (y_st − Y_s p_st) d_st over the information, d_st = t − Σ_u p_su u, as in the
/// trend fit; each part is the sum of squares of its groups' influences, times G/(G − 1) for its own number of groups. Only
/// units with counts and exposure in two periods or more are counted, for the others have no influence. The difference can
/// come out at 0 or below; the larger of the first two parts stands then.
/// </remarks>
/// <param name="ByCluster">V(clusters).</param>
/// <param name="ByPeriod">V(periods).</param>
/// <param name="ByCell">V(cluster × period).</param>
/// <param name="Clusters">How many clusters inform the slope.</param>
/// <param name="Periods">How many periods do.</param>
public sealed record TwoWaySandwich(double ByCluster, double ByPeriod, double ByCell, int Clusters, int Periods)
{
    /// <summary>The sum of the three parts, which can be negative.</summary>
    public double Sum => ByCluster + ByPeriod - ByCell;

    /// <summary>The variance of the slope on the log scale: the sum where it is positive, else the larger of its first two parts.</summary>
    public double Variance => Sum > 0 ? Sum : Math.Max(ByCluster, ByPeriod);

    /// <summary>Its square root.</summary>
    public double StandardError => Math.Sqrt(Variance);

    /// <summary>The smaller number of groups less one, for Student's t (Cameron, Gelbach and Miller 2011).</summary>
    public int DegreesOfFreedom => Math.Min(Clusters, Periods) - 1;

    /// <summary>The slope ± t times the standard error.</summary>
    /// <param name="slope">The slope.</param>
    /// <param name="confidence">0 to 1.</param>
    public Intervals.Interval Interval(double slope, double confidence)
    {
        double half = Intervals.Quantile.OfStudentT(1 - (1 - confidence) / 2, DegreesOfFreedom) * StandardError;
        return new Intervals.Interval(slope - half, slope + half);
    }

    /// <summary>The sandwich of a panel's slope over all its periods; null for a slope that is not finite, or fewer than two clusters or periods.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="slope">Its slope over all periods.</param>
    public static TwoWaySandwich? Of(PanelCounts panel, Slope slope) => OfMean([slope], _ => panel, panel.Times);

    /// <summary>
    /// The sandwich of the mean slope of several panels whose clusters are numbered alike and whose times share one axis: influences
    /// add up over panels before they are squared, so what goes together between panels counts.
    /// </summary>
    /// <param name="slopes">The panels' slopes over all their periods; at least one.</param>
    /// <param name="panelOf">The panel of a slope, by its place; asked for once each, one after another, and not held. All have as many clusters.</param>
    /// <param name="times">Every time that some panel has, ascending.</param>
    public static TwoWaySandwich? OfMean(IReadOnlyList<Slope> slopes, Func<int, PanelCounts> panelOf, double[] times)
    {
        if (slopes.Any(slope => slope.Status != SlopeStatus.Finite))
            return null;
        int periods = times.Length;
        double[] byCluster = [], byPeriod = new double[periods], byCell = [];
        bool[] clusterSeen = [], periodSeen = new bool[periods], cellSeen = [];
        for (int i = 0; i < slopes.Count; i++)
        {
            var panel = panelOf(i);
            if (i == 0)
            {
                (byCluster, byCell) = (new double[panel.ClusterCount], new double[panel.ClusterCount * periods]);
                (clusterSeen, cellSeen) = (new bool[byCluster.Length], new bool[byCell.Length]);
            }
            int[] at = [.. panel.Times.Select(time => Array.BinarySearch(times, time))];
            double share = 1 / (slopes[i].Information * slopes.Count);
            ForEachInfluence(panel, slopes[i].Value, (cluster, t, score) =>
            {
                double influence = score * share;
                byCluster[cluster] += influence;
                byPeriod[at[t]] += influence;
                byCell[cluster * periods + at[t]] += influence;
                clusterSeen[cluster] = periodSeen[at[t]] = cellSeen[cluster * periods + at[t]] = true;
            });
        }
        int clusters = clusterSeen.Count(seen => seen), informed = periodSeen.Count(seen => seen);
        if (clusters < 2 || informed < 2)
            return null;
        return new TwoWaySandwich(
            Part(byCluster, clusters), Part(byPeriod, informed), Part(byCell, cellSeen.Count(seen => seen)), clusters, informed);
    }

    /// <summary>The sum of squares of groups' influences, times G/(G − 1).</summary>
    private static double Part(double[] influences, int groups)
    {
        double squares = 0;
        foreach (double u in influences)
            squares += u * u;
        return squares * groups / (groups - 1.0);
    }

    /// <summary>Calls for every cell of every informative unit: its cluster, its period, its score w (y − Y p) d.</summary>
    private static void ForEachInfluence(PanelCounts panel, double slope, Action<int, int, double> cell)
    {
        int periods = panel.Periods;
        double middle = (panel.Times[0] + panel.Times[^1]) / 2;
        var p = new double[periods];
        for (int s = 0; s < panel.Units; s++)
        {
            if (panel.Heard[s] == 0 || UInt128.PopCount(panel.Surveyed[s]) < 2)
                continue;
            double sum = 0, mean = 0, total = 0;
            for (int t = 0; t < periods; t++)
            {
                sum += p[t] = panel.Exposure(s, t) * Math.Exp(slope * (panel.Times[t] - middle));
                total += panel.Count(s, t);
            }
            for (int t = 0; t < periods; t++)
                mean += (p[t] /= sum) * (panel.Times[t] - middle);
            for (int t = 0; t < periods; t++)
                if (panel.Exposure(s, t) > 0)
                    cell(panel.Clusters[s], t, panel.Weights[s] * (panel.Count(s, t) - total * p[t]) * (panel.Times[t] - middle - mean));
        }
    }
}
