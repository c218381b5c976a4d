using Indicators.Statistics.Intervals;
using Indicators.Statistics.Shocks;

namespace Indicators.Statistics.Pooling;

/// <summary>The mean slope of units and how far they lie apart. Log scale.</summary>
/// <param name="Pooled">The random-effects mean by generalised least squares, with τ², Q and I².</param>
/// <param name="Interval">Where the mean lies.</param>
/// <param name="DegreesOfFreedom">What Student's t has, where the units' own variances do not make the interval longer.</param>
public sealed record PooledSlope(PooledMean Pooled, Interval Interval, double DegreesOfFreedom);

/// <summary>
/// Slopes of disjoint units put together, in the presence of shocks that they share.
/// </summary>
/// <remarks>
/// β̂_i = θ_i + own error + Σ_t h_it (shared shock_t + own shock_it), θ_i ~ N(μ, τ²). So V = diag(own variance + own shocks) +
/// shared shocks (<see cref="SharedShocks"/>), and the mean is that of <see cref="PooledMean"/> under V + τ²I.
/// Its variance has two parts. What differs between units is scaled as Hartung and Knapp 2001 do and has k − 1 degrees of
/// freedom. What the shared shocks do to the mean cannot be seen between units and has T − 2. The sum has the degrees of freedom of
/// Satterthwaite 1946, as in <see cref="UnderlyingSlopes"/>. Units that happen to agree better than their own variances allow make
/// no shorter interval than one that takes these as known and does not scale.
/// A unit that cannot tell its own variance is given the others' dispersion, Σ (K − 1) V I / Σ (K − 1), over its own information.
/// </remarks>
public sealed class SlopePooling
{
    /// <summary>Of so many units the covariance is kept by its factors, and not turned to its axes, which costs the cube of their number.</summary>
    public const int ManyUnits = 400;

    private readonly IReadOnlyList<SlopePart> _parts;
    private readonly double[] _variances, _freedoms;
    private readonly double[][] _shared;
    private readonly JointEstimates _estimates;
    private readonly int _periods;

    private SlopePooling(IReadOnlyList<SlopePart> parts, int manyUnits)
    {
        _parts = parts;
        _periods = parts.SelectMany(part => part.Periods).Distinct().Count();
        (_variances, _freedoms) = OwnVariances(parts);
        Shocks = SharedShocks.Of(parts);
        (_shared, double[] own) = Shocks.Factors(parts);
        for (int i = 0; i < own.Length; i++)
            own[i] += _variances[i];
        double[] slopes = [.. parts.Select(part => part.Slope)];
        _estimates = parts.Count < manyUnits ? JointEstimates.Correlated(slopes, Covariance(own)) : JointEstimates.Sharing(slopes, own, _shared);
    }

    private double[,] Covariance(double[] own)
    {
        var covariance = new double[own.Length, own.Length];
        for (int i = 0; i < own.Length; i++)
            for (int j = 0; j <= i; j++)
                covariance[i, j] = covariance[j, i] = Product(_shared[i], _shared[j]) + (i == j ? own[i] : 0);
        return covariance;
    }

    private static double Product(double[] one, double[] other)
    {
        double sum = 0;
        for (int t = 0; t < one.Length; t++)
            sum += one[t] * other[t];
        return sum;
    }

    /// <summary>What the shocks are estimated to be.</summary>
    public SharedShocks Shocks { get; }

    /// <summary>Prepares units; null with fewer than two, with none that tells its own variance, or with fewer than three periods.</summary>
    /// <param name="parts">The units, disjoint.</param>
    /// <param name="manyUnits">From how many on <see cref="ManyUnits"/> holds; the answers are the same to within rounding.</param>
    public static SlopePooling? Of(IReadOnlyList<SlopePart> parts, int manyUnits = ManyUnits)
    {
        if (parts.Count < 2 || !parts.Any(part => part.OwnVariance > 0))
            return null;
        var pooling = new SlopePooling(parts, manyUnits);
        return pooling._estimates.IsSingular || pooling._periods < 3 ? null : pooling;
    }

    /// <summary>The mean.</summary>
    /// <param name="method">How τ² is estimated.</param>
    /// <param name="confidence">0 to 1.</param>
    public PooledSlope Mean(BetweenVarianceMethod method, double confidence)
    {
        var pooled = PooledMean.Of(_estimates, method)!;
        double shared = SharedIn(pooled.Weights);
        double apart = Math.Max(0, pooled.StandardError * pooled.StandardError - shared);
        double ratio = pooled.HartungKnappStandardError / pooled.StandardError;
        double between = apart * ratio * ratio, p = 1 - (1 - confidence) / 2;
        double freedom = Satterthwaite(between, _parts.Count - 1, shared, _periods - 2);
        double scaled = Quantile.OfStudentT(p, freedom) * Math.Sqrt(between + shared);
        double known = Quantile.OfStudentT(p, Satterthwaite(apart, double.PositiveInfinity, shared, _periods - 2)) * Math.Sqrt(apart + shared);
        double half = Math.Max(scaled, known);
        return new PooledSlope(pooled, new Interval(pooled.Mean - half, pooled.Mean + half), freedom);
    }

    /// <summary>
    /// Where the slope of one more unit under the same springs' law would lie (<see cref="OneMoreUnit"/>), its interval widened by Student's t for what
    /// is known of the shared shocks from few periods.
    /// </summary>
    /// <param name="pooled">A mean of these slopes, whose weights say how much shared shocks do to it.</param>
    /// <param name="confidence">0 to 1.</param>
    public Interval Prediction(PooledMean pooled, double confidence)
    {
        var (mean, deviation, interval) = OneMoreUnit.Of(_estimates, confidence);
        return Widened(interval, mean, deviation * deviation, SharedIn(pooled.Weights), double.PositiveInfinity, confidence);
    }

    /// <summary>What shared shocks do to a weighted mean of the slopes.</summary>
    private double SharedIn(IReadOnlyList<double> weights)
    {
        var sum = new double[_shared[0].Length];
        for (int i = 0; i < _parts.Count; i++)
            for (int t = 0; t < sum.Length; t++)
                sum[t] += weights[i] * _shared[i][t];
        return Product(sum, sum);
    }

    /// <summary>An interval of a normal kind stretched about its middle by t over z.</summary>
    private Interval Widened(Interval interval, double middle, double variance, double shared, double freedomOfRest, double confidence)
    {
        double p = 1 - (1 - confidence) / 2, part = Math.Min(variance, shared);
        double stretch = Quantile.OfStudentT(p, Satterthwaite(variance - part, freedomOfRest, part, _periods - 2)) / Quantile.OfNormal(p);
        return new Interval(middle + stretch * (interval.Lower - middle), middle + stretch * (interval.Upper - middle));
    }

    /// <summary>The interval of τ² that the generalised Q does not contradict.</summary>
    /// <param name="confidence">0 to 1.</param>
    public Interval TauSquared(double confidence) => BetweenVarianceEstimator.QProfile(_estimates, confidence);

    /// <summary>
    /// The slope of every unit with strength borrowed from the others (<see cref="Shrinkage"/>), its interval widened by Student's
    /// t for what is known of the shocks from few periods and of the unit from few clusters; null with fewer than four units.
    /// </summary>
    /// <param name="confidence">0 to 1.</param>
    public ShrunkenEstimate[]? Shrunken(double confidence)
    {
        if (Shrinkage.Of(_estimates, confidence) is not { } shrunken)
            return null;
        for (int i = 0; i < shrunken.Length; i++)
        {
            var one = shrunken[i];
            shrunken[i] = one with
            {
                Interval = Widened(one.Interval, one.Value, one.StandardError * one.StandardError, Product(_shared[i], _shared[i]), _freedoms[i], confidence),
            };
        }
        return shrunken;
    }

    /// <summary>What each unit's slope varies by over its own clusters, and with how many degrees of freedom that is known.</summary>
    private static (double[] Variances, double[] Freedoms) OwnVariances(IReadOnlyList<SlopePart> parts)
    {
        double freedom = 0, sum = 0;
        foreach (var part in parts)
            if (part.OwnVariance is { } variance) (freedom, sum) = (freedom + part.Clusters - 1, sum + (part.Clusters - 1) * variance * part.Information);
        return (
            [.. parts.Select(part => part.OwnVariance ?? sum / freedom / part.Information)],
            [.. parts.Select(part => part.OwnVariance is null ? freedom : part.Clusters - 1)]);
    }

    private static double Satterthwaite(double one, double freedomOfOne, double other, double freedomOfOther)
    {
        double sum = one + other;
        return sum == 0 ? freedomOfOne : sum * sum / (one * one / freedomOfOne + other * other / freedomOfOther);
    }
}
