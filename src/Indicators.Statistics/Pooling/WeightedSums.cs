namespace Indicators.Statistics.Pooling;

/// <summary>
/// What the estimates look like at one τ², with weights w_j = 1/(λ_j + τ²) along the axes. All methods are made of these.
/// </summary>
/// <param name="Mean">μ̂ = Σ w x y / Σ w x².</param>
/// <param name="Information">Σ w x², one over the variance of μ̂.</param>
/// <param name="Q">Σ w (y − μ̂x)²: Cochran's Q at τ² = 0, the generalised one elsewhere.</param>
/// <param name="W">Σ w.</param>
/// <param name="WW">Σ w².</param>
/// <param name="WWX">Σ w² x².</param>
/// <param name="WWWX">Σ w³ x².</param>
/// <param name="WWR">Σ w² (y − μ̂x)².</param>
/// <param name="LogWeights">Σ log w.</param>
internal readonly record struct WeightedSums(
    double Mean, double Information, double Q, double W, double WW, double WWX, double WWWX, double WWR, double LogWeights)
{
    public static WeightedSums At(JointEstimates estimates, double tau2)
    {
        if (estimates.Factored is { } factored)
            return factored.At(tau2).Sums(estimates.Values);
        double[] y = estimates.Y, x = estimates.X, variances = estimates.Variances;
        double w1 = 0, w2 = 0, wx = 0, wxy = 0, wwx = 0, wwwx = 0, logs = 0;
        for (int j = 0; j < y.Length; j++)
        {
            double w = 1 / (variances[j] + tau2), wxx = w * x[j] * x[j];
            w1 += w;
            w2 += w * w;
            wx += wxx;
            wxy += w * x[j] * y[j];
            wwx += w * wxx;
            wwwx += w * w * wxx;
            logs += Math.Log(w);
        }
        double mean = wxy / wx, q = 0, wwr = 0;
        for (int j = 0; j < y.Length; j++)
        {
            double w = 1 / (variances[j] + tau2), r = y[j] - mean * x[j];
            q += w * r * r;
            wwr += w * w * r * r;
        }
        return new WeightedSums(mean, wx, q, w1, w2, wwx, wwwx, wwr, logs);
    }

    /// <summary>Q alone, for those who look for a τ² by it.</summary>
    public static double QAt(JointEstimates estimates, double tau2) => estimates.Factored?.At(tau2).Residuals(estimates.Values).Q ?? At(estimates, tau2).Q;

    /// <summary>The restricted log-likelihood of τ² without its constant.</summary>
    public double RestrictedLogLikelihood => (LogWeights - Math.Log(Information) - Q) / 2;

    /// <summary>The derivative of the log-likelihood of τ², restricted or not, the mean profiled out.</summary>
    public double Score(bool restricted) => (WWR - W + (restricted ? WWX / Information : 0)) / 2;

    /// <summary>The expected information on τ².</summary>
    public double ExpectedInformation(bool restricted)
    {
        double ratio = WWX / Information;
        return (restricted ? WW - 2 * WWWX / Information + ratio * ratio : WW) / 2;
    }
}
