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
    public static TwoWaySandwich? Of(PanelCounts panel, Slope slope)
    {
        if (slope.Status != SlopeStatus.Finite)
            return null;
        int periods = panel.Periods;
        double middle = (panel.Times[0] + panel.Times[^1]) / 2, information = 0;
        double[] byCluster = new double[panel.ClusterCount], byPeriod = new double[periods], byCell = new double[panel.ClusterCount * periods];
        bool[] clusterSeen = new bool[panel.ClusterCount], periodSeen = new bool[periods], cellSeen = new bool[byCell.Length];
        var p = new double[periods];
        for (int s = 0; s < panel.Units; s++)
        {
            if (panel.Heard[s] == 0 || UInt128.PopCount(panel.Surveyed[s]) < 2)
                continue;
            int cluster = panel.Clusters[s];
            double sum = 0, mean = 0, total = 0;
            for (int t = 0; t < periods; t++)
            {
                sum += p[t] = panel.Exposure(s, t) * Math.Exp(slope.Value * (panel.Times[t] - middle));
                total += panel.Count(s, t);
            }
            for (int t = 0; t < periods; t++)
                mean += (p[t] /= sum) * (panel.Times[t] - middle);
            clusterSeen[cluster] = true;
            for (int t = 0; t < periods; t++)
            {
                if (panel.Exposure(s, t) == 0)
                    continue;
                double d = panel.Times[t] - middle - mean, influence = panel.Weights[s] * (panel.Count(s, t) - total * p[t]) * d;
                information += panel.Weights[s] * total * p[t] * d * d;
                byCluster[cluster] += influence;
                byPeriod[t] += influence;
                byCell[cluster * periods + t] += influence;
                periodSeen[t] = cellSeen[cluster * periods + t] = true;
            }
        }
        int clusters = clusterSeen.Count(seen => seen), informed = periodSeen.Count(seen => seen);
        if (clusters < 2 || informed < 2)
            return null;

        double Part(double[] influences, int groups)
        {
            double squares = 0;
            foreach (double u in influences)
                squares += u * u;
            return squares / (information * information) * groups / (groups - 1.0);
        }

        return new TwoWaySandwich(
            Part(byCluster, clusters), Part(byPeriod, informed), Part(byCell, cellSeen.Count(seen => seen)), clusters, informed);
    }
}
