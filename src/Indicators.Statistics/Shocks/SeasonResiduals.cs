using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Shocks;

/// <summary>
/// How the seasons of one panel lie about its log-linear trend, and what a shock shared by all units in a season does to it.
/// </summary>
/// <remarks>
/// At the slope β over the first periods, with p_st as in the trend fit, μ_st = w_s Y_s p_st, d_st = t − Σ_u p_su u,
/// μ_t = Σ_s μ_st:
/// <c>h_t = Σ_s μ_st d_st / Σ_su μ_su d_su²</c> is the change of the slope per unit shock in season t,
/// <c>r_t = Σ_s w_s y_st / μ_t − 1</c> the season's residual, and
/// <c>A_tu = δ_tu − Σ_s (μ_st / μ_t)(p_su + d_st h_u)</c> how residuals answer to shocks: to first order r = A × shock.
/// </remarks>
public sealed class SeasonResiduals
{
    internal SeasonResiduals(double[] leverage, double[] residuals, ShockResponse response)
    {
        (Leverage, Residuals, Response) = (leverage, residuals, response);
    }

    /// <summary>h_t, one a period.</summary>
    public double[] Leverage { get; }

    /// <summary>r_t, one a period; 0 where nothing is expected.</summary>
    public double[] Residuals { get; }

    /// <summary>What residuals come to under shocks that carry over, from A.</summary>
    public ShockResponse Response { get; }

    /// <summary>The sample's own residuals and leverage.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="slope">Its finite slope over them.</param>
    public static SeasonResiduals Of(PanelCounts panel, int periods, double slope)
    {
        int width = (periods + PanelCounts.Lanes - 1) / PanelCounts.Lanes * PanelCounts.Lanes;
        double[] p = new double[width], d = new double[periods], power = Powers(panel, periods, slope);
        double[] mu = new double[periods], pull = new double[periods], observed = new double[periods];
        // Σ_s μ_st p_su, row after row, each padded to whole vectors.
        var share = new double[periods * width];
        double information = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            double total = Shares(panel, s, periods, power, p, d);
            for (int t = 0; t < periods; t++)
            {
                double m = panel.WeightOf(s) * total * p[t];
                mu[t] += m;
                pull[t] += m * d[t];
                information += m * d[t] * d[t];
                observed[t] += panel.WeightOf(s) * panel.Count(s, t);
                var times = Vector256.Create(m);
                for (int u = 0; m > 0 && u < width; u += PanelCounts.Lanes)
                    Vector256.FusedMultiplyAdd(times, Vector256.LoadUnsafe(ref p[0], (nuint)u), Vector256.LoadUnsafe(ref share[0], (nuint)(t * width + u)))
                        .StoreUnsafe(ref share[0], (nuint)(t * width + u));
            }
        }

        var answers = new double[periods * periods];
        var leverage = new double[periods];
        var residuals = new double[periods];
        for (int t = 0; t < periods; t++)
        {
            leverage[t] = pull[t] / information;
            residuals[t] = mu[t] > 0 ? observed[t] / mu[t] - 1 : 0;
        }
        for (int t = 0; t < periods; t++)
        {
            if (mu[t] == 0)
                continue;
            for (int u = 0; u < periods; u++)
                answers[t * periods + u] = (t == u ? 1 : 0) - (share[t * width + u] + pull[t] * leverage[u]) / mu[t];
        }
        return new SeasonResiduals(leverage, residuals, ShockResponse.Of(answers, panel.Times.AsSpan(0, periods)));
    }

    /// <summary>
    /// What each cluster counts for in each residual: to first order a resample with multiplicities m has the residuals
    /// r_t + Σ_c (m_c − 1) ψ_ct, so that Σ_c ψ_ct ψ_cu is their covariance over resamples (the infinitesimal jackknife's).
    /// </summary>
    /// <param name="panel">The panel.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="slope">Its finite slope over them.</param>
    /// <param name="most">
    /// More clusters than this are folded into as many groups, each cluster with a sign that is its own in every series: no
    /// covariance changes on average, and the relative error of a variance is √(2/most) (Charikar, Chen and Farach-Colton 2002).
    /// </param>
    /// <returns>√(C − 1) ψ at [period × C + cluster], C clusters or groups: as draws, their usual covariance is that sum.</returns>
    public double[] Influence(PanelCounts panel, int periods, double slope, int most = int.MaxValue)
    {
        double[] p = new double[periods], d = new double[periods], power = Powers(panel, periods, slope);
        double[] mu = new double[periods], pull = new double[periods], score = new double[panel.ClusterCount];
        double information = 0;
        var influence = new double[periods * panel.ClusterCount];
        for (int s = 0; s < panel.Units; s++)
        {
            double weight = panel.WeightOf(s), total = weight * Shares(panel, s, periods, power, p, d);
            int cluster = panel.ClusterOf(s);
            for (int t = 0; t < periods; t++)
            {
                double m = total * p[t], y = weight * panel.Count(s, t);
                mu[t] += m;
                pull[t] += m * d[t];
                information += m * d[t] * d[t];
                score[cluster] += y * d[t];
                influence[t * panel.ClusterCount + cluster] += y - (1 + Residuals[t]) * m;
            }
        }
        double scale = Math.Sqrt(panel.ClusterCount - 1);
        for (int t = 0; t < periods; t++)
        {
            double toShock = mu[t] > 0 ? scale / mu[t] : 0, slopes = (1 + Residuals[t]) * pull[t] / information;
            for (int c = 0; c < panel.ClusterCount; c++)
            {
                ref double one = ref influence[t * panel.ClusterCount + c];
                one = toShock * (one - slopes * score[c]);
            }
        }
        return panel.ClusterCount > most ? Folded(influence, periods, panel.ClusterCount, most) : influence;
    }

    private static double[] Folded(double[] influence, int periods, int clusters, int groups)
    {
        // As draws they are divided by one less than their number.
        double scale = Math.Sqrt((groups - 1.0) / (clusters - 1));
        var folded = new double[periods * groups];
        for (int c = 0; c < clusters; c++)
        {
            // Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4) gives the group by its high bits, the sign by one below.
            uint hash = (uint)c * 2654435769u;
            int group = (int)((ulong)hash * (uint)groups >> 32);
            double signed = (hash >> 8 & 1) == 0 ? scale : -scale;
            for (int t = 0; t < periods; t++)
                folded[t * groups + group] += signed * influence[t * clusters + c];
        }
        return folded;
    }

    /// <summary>The residuals of one resample about its own slope.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="slope">The resample's slope over them; when it is not finite the residuals are NaN.</param>
    /// <param name="scratch">Room for <see cref="ScratchLength"/> values; overwritten.</param>
    /// <param name="residuals">r*_t at [t × stride]; 0 where nothing is expected.</param>
    /// <param name="stride">How far apart the residuals are written.</param>
    public static void OfResample(Resample sample, int periods, double slope, double[] scratch, Span<double> residuals, int stride)
    {
        if (!double.IsFinite(slope))
        {
            for (int t = 0; t < periods; t++)
                residuals[t * stride] = double.NaN;
            return;
        }
        var panel = sample.Panel;
        int width = (periods + PanelCounts.Lanes - 1) / PanelCounts.Lanes * PanelCounts.Lanes;
        nuint units = (nuint)panel.UnitStride;
        double middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        for (int t = 0; t < periods; t++)
            scratch[t] = slope * (panel.Times[t] - middle);
        // What is left there would send the whole vector another way through the exponential, to another last digit.
        scratch.AsSpan(periods, width - periods).Clear();
        ref double power = ref MemoryMarshal.GetArrayDataReference(scratch);
        for (int t = 0; t < width; t += PanelCounts.Lanes)
            FourWide.Exp(Vector256.LoadUnsafe(ref power, (nuint)t)).StoreUnsafe(ref power, (nuint)t);

        // Units run through the vectors, eight at a time as in the trend fit; each period keeps its own vector of sums.
        ref double sums = ref scratch[panel.Stride];
        scratch.AsSpan(panel.Stride).Clear();
        ref double exposures = ref MemoryMarshal.GetArrayDataReference(panel.ExposuresByPeriod);
        ref double totals = ref panel.RunningCountsByPeriod[(periods - 1) * panel.UnitStride];
        ref double multipliers = ref MemoryMarshal.GetArrayDataReference(sample.Multipliers);
        var tiny = Vector256.Create(1e-300);
        for (nuint s = 0; s < units; s += 2 * PanelCounts.Lanes)
        {
            Vector256<double> one = default, two = default;
            nuint at = s;
            for (nuint t = 0; t < (nuint)periods; t++, at += units)
            {
                var e = Vector256.Create(Unsafe.Add(ref power, t));
                one = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref exposures, at), e, one);
                two = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref exposures, at + PanelCounts.Lanes), e, two);
            }
            // Units without exposure here have nothing to share: the floor makes 0/0 a 0.
            one = Vector256.LoadUnsafe(ref multipliers, s) * Vector256.LoadUnsafe(ref totals, s) / Vector256.Max(one, tiny);
            two = Vector256.LoadUnsafe(ref multipliers, s + PanelCounts.Lanes) * Vector256.LoadUnsafe(ref totals, s + PanelCounts.Lanes)
                / Vector256.Max(two, tiny);
            at = s;
            for (nuint t = 0; t < (nuint)periods; t++, at += units)
            {
                var sum = Vector256.LoadUnsafe(ref sums, t * PanelCounts.Lanes);
                sum = Vector256.FusedMultiplyAdd(one, Vector256.LoadUnsafe(ref exposures, at), sum);
                Vector256.FusedMultiplyAdd(two, Vector256.LoadUnsafe(ref exposures, at + PanelCounts.Lanes), sum)
                    .StoreUnsafe(ref sums, t * PanelCounts.Lanes);
            }
        }
        for (int t = 0; t < periods; t++)
        {
            double expected = Vector256.Sum(Vector256.LoadUnsafe(ref sums, (nuint)(t * PanelCounts.Lanes))) * scratch[t];
            residuals[t * stride] = expected > 0 ? sample.PeriodCounts[t] / expected - 1 : 0;
        }
    }

    /// <summary>How much room <see cref="OfResample"/> needs for resamples of a panel.</summary>
    public static int ScratchLength(PanelCounts panel) => panel.Stride + PanelCounts.Lanes * panel.Periods;

    /// <summary>e^{β (t − middle)} of each period.</summary>
    private static double[] Powers(PanelCounts panel, int periods, double slope)
    {
        double middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        var powers = new double[periods];
        for (int t = 0; t < periods; t++)
            powers[t] = Math.Exp(slope * (panel.Times[t] - middle));
        return powers;
    }

    /// <summary>p and d of one unit over the first periods; returns its count over them.</summary>
    private static double Shares(PanelCounts panel, int unit, int periods, double[] power, double[] p, double[] d)
    {
        double sum = 0, mean = 0, total = 0;
        for (int t = 0; t < periods; t++)
        {
            p[t] = panel.Exposure(unit, t) * power[t];
            sum += p[t];
            total += panel.Count(unit, t);
        }
        for (int t = 0; t < periods; t++)
        {
            p[t] = sum > 0 ? p[t] / sum : 0;
            mean += p[t] * panel.Times[t];
        }
        for (int t = 0; t < periods; t++)
            d[t] = panel.Times[t] - mean;
        return total;
    }
}
