namespace Indicators.Statistics.Smooth;

/// <summary>One smoothing parameter, with the coordinates in which the penalised fit is well conditioned for it.</summary>
/// <remarks>
/// Axis j of the penalty, with eigenvalue d_j, is shortened by 1/√(1 + λd_j/h), h being the information of a typical
/// direction. Then stiff and free directions weigh alike in the Newton matrix, from λ near 0 to λ near infinity.
/// Made once and shared by all resamples.
/// </remarks>
public sealed class SmoothPenalty
{
    private readonly double _information;

    internal SmoothPenalty(NaturalSpline spline, double lambda, double information)
    {
        (Spline, _information) = (spline, information);
        int n = spline.Knots, m = n - 1;
        Stride = Fits.CrossProducts.StrideOf(n);
        Basis = new double[n * Stride];
        Scale = new double[m];
        Diagonal = new double[m];
        Take(lambda);
    }

    /// <summary>Takes another λ: for the search, which tries many.</summary>
    internal void Take(double lambda)
    {
        Lambda = lambda;
        int n = Spline.Knots, m = n - 1;
        for (int j = 0; j < m; j++)
        {
            double bending = lambda * Spline.Bending[j];
            Scale[j] = 1 / Math.Sqrt(1 + bending / _information);
            Diagonal[j] = bending * Scale[j] * Scale[j];
        }
        for (int i = 0; i < n; i++)
            for (int j = 0; j < m; j++)
                Basis[i * Stride + j] = Spline.Axes[i * m + j] * Scale[j];
    }

    /// <summary>λ: the penalty is λ/2 ∫f″² dt, time in seasons, on the scale of the log-likelihood of counts.</summary>
    public double Lambda { get; private set; }

    /// <summary>The splines it penalises.</summary>
    public NaturalSpline Spline { get; }

    internal int Stride { get; }

    /// <summary>f = Basis b: knots by row, one column a coordinate, padded.</summary>
    internal double[] Basis { get; }

    internal double[] Scale { get; }

    /// <summary>The penalty is ½ Σ Diagonal_j b_j².</summary>
    internal double[] Diagonal { get; }
}
