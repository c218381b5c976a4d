using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Pooling;

/// <summary>
/// k estimates of one kind of quantity, with what is known of their joint uncertainty: y ~ N(θ, V).
/// </summary>
/// <remarks>
/// V is turned to its own axes once, V = U Λ Uᵀ. There every sum over units is as cheap as for independent estimates:
/// the rotated estimates Uᵀy are independent with variances λ_j + τ² and means μ x_j, x = Uᵀ1. For independent estimates
/// U is the identity and x is 1 throughout, so one set of formulas serves both.
/// </remarks>
public sealed class JointEstimates
{
    /// <summary>Eigenvalues below this part of the largest count as no variance at all: the covariance is singular.</summary>
    internal const double SmallestShare = 1e-10;

    private JointEstimates(double[] values, double[] y, double[] x, double[] variances, double[,]? axes)
    {
        (Values, Y, X, Variances, Axes) = (values, y, x, variances, axes);
        double largest = variances.Max();
        IsSingular = variances.Any(v => !(v > SmallestShare * largest));
    }

    private JointEstimates(double[] values, FactoredCovariance factored)
    {
        (Values, Y, X, Variances, Factored) = (values, [], [], [], factored);
        IsSingular = factored.IsSingular;
    }

    /// <summary>How many estimates there are, k.</summary>
    public int Count => Values.Length;

    /// <summary>
    /// Whether some combination of the estimates would have no variance, as when a covariance comes from fewer draws than
    /// estimates. Nothing is pooled then.
    /// </summary>
    public bool IsSingular { get; }

    internal double[] Values { get; }

    /// <summary>Uᵀ y.</summary>
    internal double[] Y { get; }

    /// <summary>Uᵀ 1.</summary>
    internal double[] X { get; }

    /// <summary>Λ: the variances along the axes.</summary>
    internal double[] Variances { get; }

    /// <summary>U, column j being axis j; null for independent estimates, whose axes are the units themselves.</summary>
    internal double[,]? Axes { get; }

    /// <summary>V in another form, in place of its axes; null when there are axes.</summary>
    internal FactoredCovariance? Factored { get; }

    /// <summary>The largest of Λ, or a little more.</summary>
    internal double LargestVariance => Factored?.LargestVariance ?? Variances.Max();

    /// <summary>Σ V_ii.</summary>
    internal double Trace => Factored?.Trace ?? Variances.Sum();

    /// <summary>1ᵀ V 1.</summary>
    internal double Total => Factored?.Total ?? Variances.Zip(X, (variance, x) => variance * x * x).Sum();

    /// <summary>Estimates that share nothing.</summary>
    /// <param name="estimates">One a unit, finite, at least one.</param>
    /// <param name="variances">The sampling variance of each, greater than 0.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is out of range: a bug of the caller.</exception>
    public static JointEstimates Independent(ReadOnlySpan<double> estimates, ReadOnlySpan<double> variances)
    {
        if (variances.Length != estimates.Length)
            throw new ArgumentException("One variance an estimate.", nameof(variances));
        foreach (double v in variances)
            if (!(v > 0 && double.IsFinite(v)))
                throw new ArgumentException("Variances are positive and finite.", nameof(variances));
        double[] values = Checked(estimates), ones = new double[values.Length];
        Array.Fill(ones, 1);
        return new JointEstimates(values, values, ones, variances.ToArray(), null);
    }

    /// <summary>Estimates whose errors go together, as when bad seasons are shared.</summary>
    /// <param name="estimates">One a unit, finite, at least one.</param>
    /// <param name="covariance">V, k × k and symmetric; the mean of both triangles is used.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is out of range: a bug of the caller.</exception>
    public static JointEstimates Correlated(ReadOnlySpan<double> estimates, double[,] covariance)
    {
        double[] values = Checked(estimates);
        int k = values.Length;
        if (covariance.GetLength(0) != k || covariance.GetLength(1) != k)
            throw new ArgumentException("The covariance has one row and column an estimate.", nameof(covariance));
        var symmetric = Matrix<double>.Build.Dense(k, k, (i, j) => (covariance[i, j] + covariance[j, i]) / 2);
        foreach (double v in symmetric.Enumerate())
            if (!double.IsFinite(v))
                throw new ArgumentException("Covariances are finite.", nameof(covariance));

        var spectrum = symmetric.Evd(Symmetricity.Symmetric);
        double[,] axes = spectrum.EigenVectors.ToArray();
        double[] y = new double[k], x = new double[k], variances = new double[k];
        for (int j = 0; j < k; j++)
        {
            variances[j] = Math.Max(0, spectrum.EigenValues[j].Real);
            for (int i = 0; i < k; i++)
            {
                y[j] += axes[i, j] * values[i];
                x[j] += axes[i, j];
            }
        }
        return new JointEstimates(values, y, x, variances, axes);
    }

    /// <summary>Estimates that share a few things: V = diag(own) + F Fᵀ. For hundreds of units and more, whose axes would cost the cube of their number.</summary>
    /// <param name="estimates">One a unit, finite, at least one.</param>
    /// <param name="own">What no other unit shares, greater than 0.</param>
    /// <param name="shared">F, one row a unit, all as long.</param>
    internal static JointEstimates Sharing(ReadOnlySpan<double> estimates, double[] own, double[][] shared) =>
        new(Checked(estimates), new FactoredCovariance(own, shared));

    /// <summary>
    /// Estimates whose covariance is that of joint draws: row b holds one draw of every unit, made from the same resample
    /// and the same shared shocks. Needs clearly more draws than units.
    /// </summary>
    /// <param name="estimates">One a unit, finite, at least one.</param>
    /// <param name="draws">Draw after draw, one value a unit; at least two draws, all finite.</param>
    /// <exception cref="ArgumentException">Lengths disagree or a value is out of range: a bug of the caller.</exception>
    public static JointEstimates FromDraws(ReadOnlySpan<double> estimates, ReadOnlySpan<double> draws) =>
        Correlated(estimates, CovarianceOf(draws, estimates.Length));

    /// <summary>The sample covariance of joint draws, with the number of draws less one below the line.</summary>
    /// <param name="draws">Draw after draw, one value a unit.</param>
    /// <param name="units">How many units.</param>
    public static double[,] CovarianceOf(ReadOnlySpan<double> draws, int units)
    {
        int count = units == 0 ? 0 : draws.Length / units;
        if (count < 2 || draws.Length != count * units)
            throw new ArgumentException("At least two draws, one value a unit each.", nameof(draws));
        var mean = new double[units];
        for (int b = 0; b < count; b++)
            for (int i = 0; i < units; i++)
                mean[i] += draws[b * units + i] / count;
        var covariance = new double[units, units];
        var centred = new double[units];
        for (int b = 0; b < count; b++)
        {
            for (int i = 0; i < units; i++)
                centred[i] = draws[b * units + i] - mean[i];
            for (int i = 0; i < units; i++)
                for (int j = 0; j <= i; j++)
                    covariance[i, j] += centred[i] * centred[j];
        }
        for (int i = 0; i < units; i++)
            for (int j = 0; j <= i; j++)
                covariance[i, j] = covariance[j, i] = covariance[i, j] / (count - 1);
        return covariance;
    }

    private static double[] Checked(ReadOnlySpan<double> estimates)
    {
        if (estimates.IsEmpty)
            throw new ArgumentException("At least one estimate.", nameof(estimates));
        foreach (double y in estimates)
            if (!double.IsFinite(y))
                throw new ArgumentException("Estimates are finite.", nameof(estimates));
        return estimates.ToArray();
    }
}
