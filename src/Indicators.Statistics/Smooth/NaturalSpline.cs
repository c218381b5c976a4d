using Indicators.Statistics.Fits;
using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Smooth;

/// <summary>
/// The natural cubic splines with a knot at every period, written by their values at the knots.
/// </summary>
/// <remarks>
/// Of all curves through given values the natural cubic spline has the least ∫f″², and that integral is fᵀKf with
/// K = Q R⁻¹ Qᵀ (Green and Silverman 1994, chapter 2). So the penalised fit over these splines is the fit over all smooth curves:
/// there is no choice of knots. K leaves straight lines alone. f″ is linear between knots and 0 at both ends.
/// Time is in periods (seasons); gaps count.
/// </remarks>
public sealed class NaturalSpline
{
    private readonly double[] _times;
    private readonly double[,] _curvature;
    private readonly double[] _pivots;

    /// <summary>The splines over these knots.</summary>
    /// <param name="times">At least three, strictly increasing.</param>
    /// <exception cref="ArgumentException">Fewer than three knots, or not increasing.</exception>
    public NaturalSpline(ReadOnlySpan<double> times)
    {
        int n = times.Length;
        if (n < 3) throw new ArgumentException("Three knots at least.", nameof(times));
        _times = times.ToArray();
        for (int i = 1; i < n; i++)
            if (!(_times[i] > _times[i - 1])) throw new ArgumentException("Times must increase.", nameof(times));

        var q = Matrix<double>.Build.Dense(n, n - 2);
        var r = Matrix<double>.Build.Dense(n - 2, n - 2);
        for (int j = 0; j < n - 2; j++)
        {
            double before = _times[j + 1] - _times[j], after = _times[j + 2] - _times[j + 1];
            q[j, j] = 1 / before;
            q[j + 1, j] = -1 / before - 1 / after;
            q[j + 2, j] = 1 / after;
            r[j, j] = (before + after) / 3;
            if (j + 1 < n - 2)
                r[j, j + 1] = r[j + 1, j] = after / 6;
        }
        // Pivots of R's elimination.
        _pivots = new double[n - 2];
        for (int j = 0; j < n - 2; j++)
            _pivots[j] = r[j, j] - (j == 0 ? 0 : r[j, j - 1] * r[j, j - 1] / _pivots[j - 1]);
        var curvature = r.Cholesky().Solve(q.Transpose());
        var penalty = q * curvature;
        penalty = (penalty + penalty.Transpose()) / 2;
        _curvature = curvature.ToArray();
        Penalty = penalty.ToArray();

        // The axes of K: two straight ones with eigenvalue 0, the rest bending more and more.
        var spectrum = penalty.Evd(Symmetricity.Symmetric);
        double[] centred = [.. _times.Select(t => t - _times.Average())];
        double length = Math.Sqrt(centred.Sum(t => t * t));
        Axes = new double[n * (n - 1)];
        Bending = new double[n - 1];
        for (int i = 0; i < n; i++)
            Axes[i * (n - 1)] = centred[i] / length;
        for (int j = 0; j < n - 2; j++)
        {
            // Ascending eigenvalues: the first two are the straight lines'.
            Bending[j + 1] = spectrum.EigenValues[j + 2].Real;
            for (int i = 0; i < n; i++)
                Axes[i * (n - 1) + j + 1] = spectrum.EigenVectors[i, j + 2];
        }
    }

    /// <summary>How many knots.</summary>
    public int Knots => _times.Length;

    /// <summary>When they are.</summary>
    public ReadOnlySpan<double> Times => _times;

    /// <summary>K: fᵀKf = ∫f″² for the values f at the knots, per season cubed.</summary>
    public double[,] Penalty { get; }

    /// <summary>Orthonormal axes of all curves but the constant, knots × (knots − 1) by row; the first is the straight line.</summary>
    internal double[] Axes { get; }

    /// <summary>The penalty of each axis; 0 for the straight line.</summary>
    internal double[] Bending { get; }

    /// <summary>f″ at every knot, per season squared; 0 at both ends.</summary>
    /// <param name="values">f at the knots.</param>
    /// <param name="second">One place a knot; overwritten.</param>
    public void SecondDerivatives(ReadOnlySpan<double> values, Span<double> second)
    {
        int n = Knots;
        second[0] = second[n - 1] = 0;
        for (int j = 0; j < n - 2; j++)
        {
            double sum = 0;
            for (int i = 0; i < n; i++)
                sum += _curvature[j, i] * values[i];
            second[j + 1] = sum;
        }
    }

    /// <summary>f″ of many curves at every knot.</summary>
    /// <param name="values">f at [knot × count + curve].</param>
    /// <param name="count">How many curves.</param>
    /// <param name="second">Laid out the same; overwritten.</param>
    public void SecondDerivatives(ReadOnlySpan<double> values, int count, Span<double> second)
    {
        // R f″ = Qᵀf is tridiagonal: eliminated downwards, then solved upwards, all curves at once.
        second.Clear();
        int inner = Knots - 2;
        for (int j = 0; j < inner; j++)
        {
            double before = _times[j + 1] - _times[j], after = _times[j + 2] - _times[j + 1];
            var row = second.Slice((j + 1) * count, count);
            ScaledSum.Add(values.Slice(j * count, count), 1 / before, row);
            ScaledSum.Add(values.Slice((j + 1) * count, count), -1 / before - 1 / after, row);
            ScaledSum.Add(values.Slice((j + 2) * count, count), 1 / after, row);
            if (j > 0)
                ScaledSum.Add(second.Slice(j * count, count), -before / 6 / _pivots[j - 1], row);
        }
        for (int j = inner - 1; j >= 0; j--)
        {
            var row = second.Slice((j + 1) * count, count);
            if (j + 1 < inner)
                ScaledSum.Add(second.Slice((j + 2) * count, count), -(_times[j + 2] - _times[j + 1]) / 6, row);
            foreach (ref double value in row)
                value /= _pivots[j];
        }
    }

    /// <summary>f′ at every knot, per season.</summary>
    /// <param name="values">f at the knots.</param>
    /// <param name="second">f″ at the knots.</param>
    /// <param name="first">One place a knot; overwritten.</param>
    public void FirstDerivatives(ReadOnlySpan<double> values, ReadOnlySpan<double> second, Span<double> first)
    {
        for (int i = 0; i < Knots - 1; i++)
            first[i] = SlopeWithin(i, 0, values, second);
        first[Knots - 1] = SlopeWithin(Knots - 2, 1, values, second);
    }

    /// <summary>Where the curve falls fastest and where it rises fastest, exactly: f′ has its extremes where f″ is 0.</summary>
    /// <param name="values">f at the knots.</param>
    /// <param name="second">f″ at the knots.</param>
    public SteepestPoints Steepest(ReadOnlySpan<double> values, ReadOnlySpan<double> second)
    {
        double fall = double.PositiveInfinity, rise = double.NegativeInfinity, fallTime = 0, riseTime = 0;
        for (int i = 0; i < Knots - 1; i++)
        {
            double a = second[i], b = second[i + 1];
            Offer(_times[i], SlopeWithin(i, 0, values, second));
            if (a * b < 0)
            {
                double u = a / (a - b);
                Offer(_times[i] + u * (_times[i + 1] - _times[i]), SlopeWithin(i, u, values, second));
            }
        }
        Offer(_times[^1], SlopeWithin(Knots - 2, 1, values, second));
        return new SteepestPoints(fallTime, fall, riseTime, rise);

        void Offer(double time, double slope)
        {
            if (slope < fall) (fall, fallTime) = (slope, time);
            if (slope > rise) (rise, riseTime) = (slope, time);
        }
    }

    private double SlopeWithin(int i, double u, ReadOnlySpan<double> values, ReadOnlySpan<double> second)
    {
        double gap = _times[i + 1] - _times[i];
        return (values[i + 1] - values[i]) / gap
            + gap / 6 * ((3 * u * u - 1) * second[i + 1] - (3 * (1 - u) * (1 - u) - 1) * second[i]);
    }
}
