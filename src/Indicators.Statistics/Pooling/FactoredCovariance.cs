using Indicators.Statistics.Fits;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace Indicators.Statistics.Pooling;

/// <summary>
/// What <see cref="JointEstimates"/> needs of V = diag(own) + F Fᵀ with few columns F, without its axes, which cost the cube of the units: with W = (diag(own) +
/// τ²I)⁻¹ and M = I + Fᵀ W F it is (V + τ²I)⁻¹ = W − W F M⁻¹ Fᵀ W, and its determinant that of M over that of W (Woodbury 1950).
/// </summary>
/// <remarks>A value of τ² costs units × columns².</remarks>
internal sealed class FactoredCovariance
{
    private readonly double[] _own, _rows, _ones;
    private readonly int _rank, _stride;

    /// <param name="own">What no other unit shares, one a unit, greater than 0.</param>
    /// <param name="rows">F, one row a unit, all as long.</param>
    public FactoredCovariance(double[] own, double[][] rows)
    {
        (_own, _rank, _stride) = (own, rows[0].Length, CrossProducts.StrideOf(rows[0].Length));
        (_rows, _ones) = (new double[own.Length * _stride], new double[own.Length]);
        Array.Fill(_ones, 1);
        for (int i = 0; i < own.Length; i++)
            rows[i].CopyTo(_rows, i * _stride);
        // The largest eigenvalue is no larger than those of both parts together.
        LargestVariance = own.Max() + Gram(_ones, 0).Evd(Symmetricity.Symmetric).EigenValues.Max(value => value.Real);
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

    /// <summary>(V + τ²I)⁻¹ at one τ².</summary>
    public Inverse At(double tau2) => new(this, tau2);

    /// <summary>Fᵀ W^power F.</summary>
    private Matrix<double> Gram(double[] weights, int power)
    {
        double[] sum = new double[(_rank + 4) * _stride], block = new double[CrossProducts.Block * _stride];
        int filled = 0;
        for (int i = 0; i < weights.Length; i++)
        {
            double root = 1;
            for (int p = 0; p < power; p++)
                root *= weights[i];
            root = Math.Sqrt(root);
            for (int t = 0; t < _rank; t++)
                block[filled * _stride + t] = root * _rows[i * _stride + t];
            if (++filled < CrossProducts.Block && i + 1 < weights.Length)
                continue;
            CrossProducts.Add(block, filled, _stride, _rank, sum);
            filled = 0;
        }
        return Matrix<double>.Build.Dense(_rank, _rank, (t, u) => sum[Math.Min(t, u) * _stride + Math.Max(t, u)]);
    }

    /// <summary>W and the factor of M.</summary>
    internal sealed class Inverse
    {
        private readonly FactoredCovariance _of;
        private readonly double[] _weights;
        private readonly Cholesky<double> _inner;

        public Inverse(FactoredCovariance of, double tau2)
        {
            (_of, _weights) = (of, [.. of._own.Select(own => 1 / (own + tau2))]);
            var inner = of.Gram(_weights, 1);
            for (int t = 0; t < of._rank; t++)
                inner[t, t] += 1;
            _inner = inner.Cholesky();
            OfOnes = Times(of._ones);
        }

        /// <summary>Itself times 1: its rows' sums.</summary>
        public double[] OfOnes { get; }

        /// <summary>Itself times a vector.</summary>
        public double[] Times(double[] vector)
        {
            var right = Vector<double>.Build.Dense(_of._rank);
            for (int i = 0; i < vector.Length; i++)
                for (int t = 0; t < _of._rank; t++)
                    right[t] += _weights[i] * vector[i] * _of._rows[i * _of._stride + t];
            double[] left = _inner.Solve(right).ToArray(), result = new double[vector.Length];
            for (int i = 0; i < result.Length; i++)
            {
                double shared = 0;
                for (int t = 0; t < _of._rank; t++)
                    shared += _of._rows[i * _of._stride + t] * left[t];
                result[i] = _weights[i] * (vector[i] - shared);
            }
            return result;
        }

        /// <summary>Its diagonal.</summary>
        public double[] Diagonal()
        {
            var inverse = _inner.Solve(Matrix<double>.Build.DenseIdentity(_of._rank));
            var diagonal = new double[_weights.Length];
            for (int i = 0; i < diagonal.Length; i++)
            {
                double sum = 0;
                for (int t = 0; t < _of._rank; t++)
                {
                    double row = 0;
                    for (int u = 0; u < _of._rank; u++)
                        row += inverse[t, u] * _of._rows[i * _of._stride + u];
                    sum += row * _of._rows[i * _of._stride + t];
                }
                diagonal[i] = _weights[i] - _weights[i] * _weights[i] * sum;
            }
            return diagonal;
        }

        /// <summary>μ̂ of the values y, itself times y − μ̂1, and Q = (y − μ̂1)ᵀ itself (y − μ̂1).</summary>
        public (double Mean, double[] OfResiduals, double Q) Residuals(double[] values)
        {
            double[] of = Times(values);
            double mean = of.Sum() / OfOnes.Sum(), q = 0;
            for (int i = 0; i < of.Length; i++)
            {
                of[i] -= mean * OfOnes[i];
                q += (values[i] - mean) * of[i];
            }
            return (mean, of, q);
        }

        /// <summary>The sums that all methods are made of.</summary>
        public WeightedSums Sums(double[] values)
        {
            var (mean, ofResiduals, q) = Residuals(values);
            double[] twice = Times(OfOnes);
            Matrix<double> second = _inner.Solve(_of.Gram(_weights, 2)), third = _inner.Solve(_of.Gram(_weights, 3));
            double trace = 0, squares = 0, wwx = 0, wwwx = 0, wwr = 0, logs = -_inner.DeterminantLn;
            for (int i = 0; i < values.Length; i++)
            {
                trace += _weights[i];
                squares += _weights[i] * _weights[i];
                logs += Math.Log(_weights[i]);
                wwx += OfOnes[i] * OfOnes[i];
                wwwx += OfOnes[i] * twice[i];
                wwr += ofResiduals[i] * ofResiduals[i];
            }
            return new WeightedSums(
                mean, OfOnes.Sum(), q, trace - second.Trace(), squares - 2 * third.Trace() + (second * second).Trace(), wwx, wwwx, wwr, logs);
        }
    }
}
