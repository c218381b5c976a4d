using Indicators.Statistics.Intervals;

namespace Indicators.Statistics.Pooling;

/// <summary>The mean of units that differ, and how much they differ. Everything is in the units of the estimates.</summary>
/// <remarks>
/// θ_i ~ N(μ, τ²), y ~ N(θ, V): generalised least squares with covariance V + τ²I. With independent estimates this is the
/// usual random-effects mean. Errors that units share widen the standard error by themselves, because V holds them; taking
/// V as diagonal when they exist makes every interval here too short.
/// </remarks>
/// <param name="Between">τ².</param>
/// <param name="Mean">μ̂.</param>
/// <param name="StandardError">1/√(1ᵀ(V + τ²I)⁻¹1), which takes τ² as known.</param>
/// <param name="HartungKnappStandardError">
/// The former times √(generalised Q/(k − 1)) (Hartung and Knapp 2001); never made larger than it comes out.
/// </param>
/// <param name="Q">Cochran's Q, at τ² = 0.</param>
/// <param name="DegreesOfFreedom">k − 1.</param>
/// <param name="TypicalVariance">The units' typical sampling variance s² (Higgins and Thompson 2002).</param>
/// <param name="Weights">Each unit's share in the mean, adding up to 1; a share can be negative when errors are shared.</param>
public sealed record PooledMean(
    BetweenVariance Between,
    double Mean,
    double StandardError,
    double HartungKnappStandardError,
    double Q,
    int DegreesOfFreedom,
    double TypicalVariance,
    IReadOnlyList<double> Weights)
{
    /// <summary>I² = τ²/(τ² + s²): the share of the variation that is not the units' own uncertainty, 0 to 1.</summary>
    public double ISquared => Between.Value / (Between.Value + TypicalVariance);

    /// <summary>H² = (τ² + s²)/s², 1 or more.</summary>
    public double HSquared => (Between.Value + TypicalVariance) / TypicalVariance;

    /// <summary>I² as Q gives it, max(0, (Q − (k − 1))/Q): the same as <see cref="ISquared"/> for DerSimonian and Laird's τ² only.</summary>
    public double ISquaredFromQ => Q > 0 ? Math.Max(0, (Q - DegreesOfFreedom) / Q) : 0;

    /// <summary>μ̂ ± z SE, which takes τ² as known: too short for few units.</summary>
    public Interval NormalInterval(double confidence) => Around(Quantile.OfNormal(Upper(confidence)) * StandardError);

    /// <summary>μ̂ ± t(k − 1) times the Hartung–Knapp standard error.</summary>
    public Interval HartungKnappInterval(double confidence) =>
        Around(Quantile.OfStudentT(Upper(confidence), DegreesOfFreedom) * HartungKnappStandardError);

    /// <summary>Where one more unit's true value would lie; null for Student's t with no degrees of freedom left.</summary>
    public Interval? PredictionInterval(double confidence, PredictionConvention convention = PredictionConvention.HartungKnappStudent)
    {
        double p = Upper(confidence);
        var (quantile, error) = convention switch
        {
            PredictionConvention.Normal => (Quantile.OfNormal(p), StandardError),
            PredictionConvention.StudentTwoFewer when DegreesOfFreedom < 2 => (double.NaN, StandardError),
            PredictionConvention.StudentTwoFewer => (Quantile.OfStudentT(p, DegreesOfFreedom - 1), StandardError),
            _ => (Quantile.OfStudentT(p, DegreesOfFreedom), HartungKnappStandardError),
        };
        return double.IsNaN(quantile) ? null : Around(quantile * Math.Sqrt(Between.Value + error * error));
    }

    /// <summary>Pools estimates; null when there are fewer than two or their covariance is singular.</summary>
    /// <param name="estimates">The estimates.</param>
    /// <param name="method">How τ² is estimated.</param>
    public static PooledMean? Of(JointEstimates estimates, BetweenVarianceMethod method = BetweenVarianceMethod.RestrictedMaximumLikelihood)
    {
        if (estimates.Count < 2 || estimates.IsSingular)
            return null;
        var between = BetweenVarianceEstimator.Estimate(estimates, method);
        var random = WeightedSums.At(estimates, between.Value);
        var common = WeightedSums.At(estimates, 0);
        int degrees = estimates.Count - 1;
        double error = 1 / Math.Sqrt(random.Information);
        return new PooledMean(
            between,
            random.Mean,
            error,
            error * Math.Sqrt(random.Q / degrees),
            common.Q,
            degrees,
            degrees / (common.W - common.WWX / common.Information),
            WeightsAt(estimates, between.Value, random.Information));
    }

    private static double[] WeightsAt(JointEstimates estimates, double tau2, double information)
    {
        if (estimates.Factored is { } factored)
            return [.. factored.At(tau2).OfOnes.Select(sum => sum / information)];
        int k = estimates.Count;
        var weights = new double[k];
        for (int j = 0; j < k; j++)
        {
            double share = estimates.X[j] / ((estimates.Variances[j] + tau2) * information);
            if (estimates.Axes is not { } axes)
                weights[j] = share;
            else
                for (int i = 0; i < k; i++)
                    weights[i] += axes[i, j] * share;
        }
        return weights;
    }

    private static double Upper(double confidence) => 1 - (1 - confidence) / 2;

    private Interval Around(double half) => new(Mean - half, Mean + half);
}
