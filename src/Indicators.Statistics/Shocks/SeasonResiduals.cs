using Indicators.Statistics.Panels;

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
    private SeasonResiduals(double[] leverage, double[] residuals, double norm)
    {
        (Leverage, Residuals, ResponseNorm) = (leverage, residuals, norm);
    }

    /// <summary>h_t, one a period.</summary>
    public IReadOnlyList<double> Leverage { get; }

    /// <summary>r_t, one a period; 0 where nothing is expected.</summary>
    public IReadOnlyList<double> Residuals { get; }

    /// <summary>‖A‖, the Frobenius norm.</summary>
    public double ResponseNorm { get; }

    /// <summary>The sample's own residuals and leverage.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="slope">Its finite slope over them.</param>
    public static SeasonResiduals Of(PanelCounts panel, int periods, double slope)
    {
        double[] p = new double[periods], d = new double[periods];
        double[] mu = new double[periods], pull = new double[periods], observed = new double[periods];
        var share = new double[periods, periods];
        double information = 0;
        for (int s = 0; s < panel.Units; s++)
        {
            double total = Shares(panel, s, periods, slope, p, d);
            for (int t = 0; t < periods; t++)
            {
                double m = panel.WeightOf(s) * total * p[t];
                mu[t] += m;
                pull[t] += m * d[t];
                information += m * d[t] * d[t];
                observed[t] += panel.WeightOf(s) * panel.Count(s, t);
                for (int u = 0; u < periods; u++)
                    share[t, u] += m * p[u];
            }
        }

        double squares = 0;
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
            {
                double response = (t == u ? 1 : 0) - (share[t, u] + pull[t] * leverage[u]) / mu[t];
                squares += response * response;
            }
        }
        return new SeasonResiduals(leverage, residuals, Math.Sqrt(squares));
    }

    /// <summary>The residuals of one resample about its own slope.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="periods">How many periods to use, from the first.</param>
    /// <param name="slope">The resample's slope over them; when it is not finite the residuals are NaN.</param>
    /// <param name="scratch">Two values a period; overwritten.</param>
    /// <param name="residuals">r*_t, one a period; 0 where nothing is expected.</param>
    public static void OfResample(Resample sample, int periods, double slope, Span<double> scratch, Span<double> residuals)
    {
        if (!double.IsFinite(slope))
        {
            residuals.Fill(double.NaN);
            return;
        }
        var panel = sample.Panel;
        var power = scratch[..periods];
        var mu = scratch[periods..(2 * periods)];
        double middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        mu.Clear();
        for (int t = 0; t < periods; t++)
            power[t] = Math.Exp(slope * (panel.Times[t] - middle));
        foreach (int s in sample.Active)
        {
            var exposures = panel.Exposures.AsSpan(s * panel.Stride, periods);
            double sum = 0;
            for (int t = 0; t < periods; t++)
                sum += exposures[t] * power[t];
            if (sum == 0)
                continue;
            double share = sample.Multipliers[s] * panel.RunningCountsByPeriod[(periods - 1) * panel.UnitStride + s] / sum;
            for (int t = 0; t < periods; t++)
                mu[t] += share * exposures[t];
        }
        for (int t = 0; t < periods; t++)
            residuals[t] = mu[t] > 0 ? sample.PeriodCounts[t] / (mu[t] * power[t]) - 1 : 0;
    }

    /// <summary>p and d of one unit over the first periods; returns its count over them.</summary>
    private static double Shares(PanelCounts panel, int unit, int periods, double slope, double[] p, double[] d)
    {
        double sum = 0, mean = 0, total = 0, middle = (panel.Times[0] + panel.Times[periods - 1]) / 2;
        for (int t = 0; t < periods; t++)
        {
            p[t] = panel.Exposure(unit, t) * Math.Exp(slope * (panel.Times[t] - middle));
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
