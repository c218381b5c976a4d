using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Resampling;

namespace Indicators.Statistics.Groups;

/// <summary>
/// The part of bootstrap draws that is linear in how often each cluster was drawn, for several quantities of the same resamples.
/// </summary>
/// <remarks>
/// The projection of a draw q* on the multiplicities m of a multinomial plan is q̄ + Σ_j c_j (m_j − 1) with c_j = cov(m_j, q*), and its variance
/// Σ_j c_j² (Efron 2014, "Estimation and accuracy after model selection"). Reckoned from B resamples of K clusters that sum is too large by about
/// K/B times the draws' variance, which is taken off, as there. What is left of the draws' variance is curvature: a resample holds fewer
/// different clusters than the sample, about 63 in 100, so that the log of a sum of few calls bends more in resamples than in the sample itself,
/// and draws spread more than estimates do.
/// </remarks>
public sealed class LinearPart
{
    /// <summary>
    /// With more clusters than this all is taken for linear: K/B would be large, and the log of so many clusters' calls hardly bends (docs/coverage.md:
    /// 0.98 with 60 wetlands).
    /// </summary>
    private const int MostClusters = 512;

    private readonly double[] _draws, _covariances;
    private readonly int _quantities, _clusters;

    /// <summary>Projects the draws.</summary>
    /// <param name="plan">How often each cluster was drawn in each resample.</param>
    /// <param name="draws">The draws, resample after resample, one value a quantity; NaN where lost, otherwise finite.</param>
    /// <param name="quantities">How many quantities there are.</param>
    public LinearPart(ResamplingPlan plan, double[] draws, int quantities)
    {
        (_draws, _quantities, _clusters) = (draws, quantities, plan.Clusters);
        int resamples = quantities == 0 ? 0 : draws.Length / quantities;
        _covariances = plan.Clusters > MostClusters ? [] : new double[plan.Clusters * quantities];
        if (_covariances.Length == 0)
            return;
        var (means, counts) = Means(draws, quantities);
        var multiplicities = new int[plan.Clusters];
        var off = new double[quantities];
        for (int b = 0; b < resamples; b++)
        {
            for (int q = 0; q < quantities; q++)
            {
                double value = draws[b * quantities + q];
                off[q] = double.IsNaN(value) ? 0 : (value - means[q]) / counts[q];
            }
            plan.Draw(b, multiplicities);
            for (int j = 0; j < multiplicities.Length; j++)
                if (multiplicities[j] != 1) ScaledSum.Add(off, multiplicities[j] - 1, _covariances.AsSpan(j * quantities, quantities));
        }
    }

    /// <summary>
    /// The standard deviation of the linear part of Σ_q a_q q* over that of the draws of the sum themselves, 0 to 1; 1 where the draws do not vary.
    /// </summary>
    /// <param name="weights">a, one a quantity; quantities with 0 are left out, even where they are lost.</param>
    public double Share(ReadOnlySpan<double> weights)
    {
        if (_covariances.Length == 0)
            return 1;
        var sums = new double[_draws.Length / _quantities];
        for (int b = 0; b < sums.Length; b++)
            sums[b] = Sum(weights, _draws.AsSpan(b * _quantities, _quantities));
        double variance = DrawMoments.Of(sums).Variance;
        if (variance == 0)
            return 1;
        double linear = 0;
        for (int j = 0; j < _clusters; j++)
        {
            double c = Sum(weights, _covariances.AsSpan(j * _quantities, _quantities));
            linear += c * c;
        }
        linear -= (double)_clusters / sums.Count(double.IsFinite) * variance;
        return Math.Sqrt(Math.Clamp(linear / variance, 0, 1));
    }

    private static double Sum(ReadOnlySpan<double> weights, ReadOnlySpan<double> values)
    {
        double sum = 0;
        for (int q = 0; q < weights.Length; q++)
            sum += weights[q] == 0 ? 0 : weights[q] * values[q];
        return sum;
    }

    private static (double[] Means, int[] Counts) Means(double[] draws, int quantities)
    {
        var (means, counts) = (new double[quantities], new int[quantities]);
        for (int i = 0; i < draws.Length; i++)
        {
            if (double.IsNaN(draws[i]))
                continue;
            means[i % quantities] += draws[i];
            counts[i % quantities]++;
        }
        for (int q = 0; q < quantities; q++)
            means[q] /= counts[q];
        return (means, counts);
    }
}
