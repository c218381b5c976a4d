using Indicators.Statistics.Fits;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace Indicators.Statistics.Pooling;

/// <summary>
/// What <see cref="JointEstimates"/> needs of V = diag(own) + F Fᵀ with few columns F, without its axes, which cost the cube of the units: with W = (diag(own) +
/// τ²I)⁻¹ and M = I + Fᵀ W F it is (V + τ²I)⁻¹ = W − W F M⁻¹ Fᵀ W, and its determinant that of M over that of W (Woodbury 1950).
/// </summary>
/// <remarks>A value of τ² costs units × columns². One thread at a time.</remarks>
internal sealed class FactoredCovariance
{
    private readonly double[] _own, _rows, _weights, _block;
    private readonly int _rank, _stride;

    /// <param name="own">What no other unit shares, one a unit, greater than 0.</param>
    /// <param name="rows">F, one row a unit, all as long.</param>
    public FactoredCovariance(double[] own, double[][] rows)
    {
        (_own, _rank, _stride) = (own, rows[0].Length, CrossProducts.StrideOf(rows[0].Length));
        (_rows, _weights, _block) = (new double[own.Length * _stride], new double[own.Length], new double[CrossProducts.Block * _stride]);
        for (int i = 0; i < own.Length; i++)
            rows[i].CopyTo(_rows, i * _stride);
        // The largest eigenvalue is no larger than those of both parts together.
        LargestVariance = own.Max() + Gram(0, 0).Evd(Symmetricity.Symmetric).EigenValues.Max(value => value.Real);
        IsSingular = !(own.Min() > JointEstimates.SmallestShare * LargestVariance);
    }

    /// <summary>A bound on the largest eigenvalue of V, above it by the smaller part's at most.</summary>
    public double LargestVariance { get; }

    /// <summary>Σ V_ii.</summary>
    public double Trace => _own.Sum() + _rows.Sum(value => value * value);

    /// <summary>1ᵀ V 1.</summary>
    public double Total => _own.Sum() + Enumerable.Range(0, _rank).Sum(t => Math.Pow(Enumerable.Range(0, _own.Length).Sum(i => _rows[i * _stride + t]), 2));

    /// <summary>Whether some unit has next to no variance of its own.</summary>
    public bool IsSingular { get; }

    /// <summary>The sums that all methods are made of, at one τ².</summary>
    public WeightedSums At(double[] values, double tau2)
    {
        var inner = Prepare(tau2);
        double[] ones = new double[values.Length];
        Array.Fill(ones, 1);
        double[] ofOnes = Inverse(inner, ones), ofValues = Inverse(inner, values), ofBoth = Inverse(inner, ofOnes);
        Matrix<double> second = inner.Solve(Gram(tau2, 2)), third = inner.Solve(Gram(tau2, 3));
        double trace = 0, squares = 0, information = 0, total = 0, wwx = 0, wwwx = 0, logs = -inner.DeterminantLn;
        for (int i = 0; i < values.Length; i++)
        {
            trace += _weights[i];
            squares += _weights[i] * _weights[i];
            logs += Math.Log(_weights[i]);
            information += ofOnes[i];
            total += ofValues[i];
            wwx += ofOnes[i] * ofOnes[i];
            wwwx += ofOnes[i] * ofBoth[i];
        }
        double mean = total / information, q = 0, wwr = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double of = ofValues[i] - mean * ofOnes[i];
            q += (values[i] - mean) * of;
            wwr += of * of;
        }
        return new WeightedSums(
            mean, information, q, trace - second.Trace(), squares - 2 * third.Trace() + (second * second).Trace(), wwx, wwwx, wwr, logs);
    }

    /// <summary>Q alone: (y − μ̂1)ᵀ (V + τ²I)⁻¹ (y − μ̂1).</summary>
    public double QAt(double[] values, double tau2)
    {
        var inner = Prepare(tau2);
        var ones = new double[values.Length];
        Array.Fill(ones, 1);
        double[] ofOnes = Inverse(inner, ones), ofValues = Inverse(inner, values);
        double mean = ofValues.Sum() / ofOnes.Sum(), q = 0;
        for (int i = 0; i < values.Length; i++)
            q += (values[i] - mean) * (ofValues[i] - mean * ofOnes[i]);
        return q;
    }

    /// <summary>(V + τ²I)⁻¹ times a vector.</summary>
    public double[] Inverse(double tau2, double[] vector) => Inverse(Prepare(tau2), vector);

    /// <summary>The diagonal of (V + τ²I)⁻¹.</summary>
    public double[] InverseDiagonal(double tau2)
    {
        var inverse = Prepare(tau2).Solve(Matrix<double>.Build.DenseIdentity(_rank));
        var diagonal = new double[_own.Length];
        for (int i = 0; i < diagonal.Length; i++)
        {
            double sum = 0;
            for (int t = 0; t < _rank; t++)
            {
                double row = 0;
                for (int u = 0; u < _rank; u++)
                    row += inverse[t, u] * _rows[i * _stride + u];
                sum += row * _rows[i * _stride + t];
            }
            diagonal[i] = _weights[i] - _weights[i] * _weights[i] * sum;
        }
        return diagonal;
    }

    /// <summary>Sets W and factors M.</summary>
    private Cholesky<double> Prepare(double tau2)
    {
        for (int i = 0; i < _own.Length; i++)
            _weights[i] = 1 / (_own[i] + tau2);
        var inner = Gram(tau2, 1);
        for (int t = 0; t < _rank; t++)
            inner[t, t] += 1;
        return inner.Cholesky();
    }

    private double[] Inverse(Cholesky<double> inner, double[] vector)
    {
        var right = Vector<double>.Build.Dense(_rank);
        for (int i = 0; i < vector.Length; i++)
            for (int t = 0; t < _rank; t++)
                right[t] += _weights[i] * vector[i] * _rows[i * _stride + t];
        double[] left = inner.Solve(right).ToArray(), result = new double[vector.Length];
        for (int i = 0; i < result.Length; i++)
        {
            double shared = 0;
            for (int t = 0; t < _rank; t++)
                shared += _rows[i * _stride + t] * left[t];
            result[i] = _weights[i] * (vector[i] - shared);
        }
        return result;
    }

    /// <summary>Fᵀ W^power F.</summary>
    private Matrix<double> Gram(double tau2, int power)
    {
        var sum = new double[(_rank + 4) * _stride];
        int filled = 0;
        for (int i = 0; i < _own.Length; i++)
        {
            double weight = 1 / (_own[i] + tau2), root = 1;
            for (int p = 0; p < power; p++)
                root *= weight;
            root = Math.Sqrt(root);
            for (int t = 0; t < _rank; t++)
                _block[filled * _stride + t] = root * _rows[i * _stride + t];
            if (++filled < CrossProducts.Block && i + 1 < _own.Length)
                continue;
            CrossProducts.Add(_block, filled, _stride, _rank, sum);
            filled = 0;
        }
        return Matrix<double>.Build.Dense(_rank, _rank, (t, u) => sum[Math.Min(t, u) * _stride + Math.Max(t, u)]);
    }
}
