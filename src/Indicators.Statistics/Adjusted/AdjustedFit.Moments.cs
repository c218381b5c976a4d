using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Adjusted;

// Expected sums of the current parameters and the Hessian: one pass over the visits, unit by unit, in a fixed order.
public sealed partial class AdjustedFit
{
    /// <summary>
    /// Expected sums z̄ of all parameters; with a Hessian also Σ μ_v x_v x_vᵀ (squares), Σ μ_v x_v by period (mixed) and
    /// Σ_s m_s Y_s z̄_s z̄_sᵀ (unit sums).
    /// </summary>
    private void Evaluate(Resample sample, bool withHessian)
    {
        Array.Clear(_gradient);
        Array.Clear(_mu);
        if (withHessian)
        {
            Hessians++;
            Array.Clear(_squares);
            Array.Clear(_mixed);
            Array.Clear(_unitSums);
            Array.Clear(_unitBlock);
        }
        var panel = _visits.Panel;
        int stride = _visits.Stride, width = (_visits.Columns + 3) / 4 * 4, filled = 0, unitsFilled = 0;
        ref double rows = ref MemoryMarshal.GetArrayDataReference(_visits.Rows.Values);
        ref double block = ref MemoryMarshal.GetArrayDataReference(_block);
        ref double unitBlock = ref MemoryMarshal.GetArrayDataReference(_unitBlock);
        ref double mixed = ref MemoryMarshal.GetArrayDataReference(_mixed);
        ref double gradient = ref MemoryMarshal.GetArrayDataReference(_gradient);
        Span<double> mean = stackalloc double[width];
        ref double z = ref MemoryMarshal.GetReference(mean);
        foreach (int s in sample.Active)
        {
            if (!IsUsed(s))
                continue;
            int first = _visits.First[s], end = _visits.First[s + 1];
            double sum = Exponentials(first, end);
            double weight = sample.Multipliers[s] * panel.RunningCountsByPeriod[(panel.Periods - 1) * panel.UnitStride + s];
            double perVisit = 1 / sum;
            mean.Clear();
            int place = unitsFilled * _stride;
            if (withHessian && _timeEffects > 0)
                Array.Clear(_unitBlock, place, _stride);
            for (int v = first; v < end; v++)
            {
                double p = _e[v] * perVisit;
                if (p == 0)
                    continue;
                nuint row = (nuint)(_visits.RowOf[v] * stride);
                var share = Vector256.Create(p);
                for (int c = 0; c < width; c += 4)
                    Vector256.FusedMultiplyAdd(share, Vector256.LoadUnsafe(ref rows, row + (nuint)c), Vector256.LoadUnsafe(ref z, (nuint)c))
                        .StoreUnsafe(ref z, (nuint)c);
                int period = _visits.Periods[v];
                _mu[period] += weight * p;
                if (!withHessian)
                    continue;
                if (_timeEffects > 0)
                {
                    _unitBlock[place + period] += p;
                    var expected = Vector256.Create(weight * p);
                    nuint to = (nuint)(period * stride);
                    for (int c = 0; c < width; c += 4)
                        Vector256.FusedMultiplyAdd(expected, Vector256.LoadUnsafe(ref rows, row + (nuint)c), Vector256.LoadUnsafe(ref mixed, to + (nuint)c))
                            .StoreUnsafe(ref mixed, to + (nuint)c);
                }
                var root = Vector256.Create(Math.Sqrt(weight * p));
                nuint at = (nuint)(filled * stride);
                for (int c = 0; c < width; c += 4)
                    (root * Vector256.LoadUnsafe(ref rows, row + (nuint)c)).StoreUnsafe(ref block, at + (nuint)c);
                if (++filled == CrossProducts.Block)
                {
                    CrossProducts.Add(_block, filled, stride, _visits.Columns, _squares);
                    filled = 0;
                }
            }
            var scale = Vector256.Create(weight);
            for (int c = 0; c < width; c += 4)
                Vector256.FusedMultiplyAdd(scale, Vector256.LoadUnsafe(ref z, (nuint)c), Vector256.LoadUnsafe(ref gradient, (nuint)(_timeEffects + c)))
                    .StoreUnsafe(ref gradient, (nuint)(_timeEffects + c));
            if (!withHessian)
                continue;
            double rootWeight = Math.Sqrt(weight);
            for (int t = 0; t < _timeEffects; t++)
                _unitBlock[place + t] *= rootWeight;
            for (int j = 0; j < _visits.Columns; j++)
                _unitBlock[place + _timeEffects + j] = rootWeight * mean[j];
            if (++unitsFilled == CrossProducts.Block)
            {
                CrossProducts.Add(_unitBlock, unitsFilled, _stride, _unknowns, _unitSums);
                unitsFilled = 0;
            }
        }
        if (filled > 0)
            CrossProducts.Add(_block, filled, stride, _visits.Columns, _squares);
        if (unitsFilled > 0)
            CrossProducts.Add(_unitBlock, unitsFilled, _stride, _unknowns, _unitSums);
        for (int t = 0; t < _timeEffects; t++)
            _gradient[t] = _mu[t];
    }

    /// <summary>e^η of one unit's visits, 0 in periods that are not linked, and their sum.</summary>
    private double Exponentials(int first, int end)
    {
        ref double eta = ref MemoryMarshal.GetArrayDataReference(_eta);
        ref double e = ref MemoryMarshal.GetArrayDataReference(_e);
        // The last vector may reach into the next unit, whose own turn comes later or whose values nobody reads.
        for (int v = first; v < end; v += PanelCounts.Lanes)
            FourWide.Exp(Vector256.LoadUnsafe(ref eta, (nuint)v)).StoreUnsafe(ref e, (nuint)v);
        double sum = 0;
        for (int v = first; v < end; v++)
        {
            if (_timeEffects > 0 && (_linked >> _visits.Periods[v] & 1) == 0)
                _e[v] = 0;
            sum += _e[v];
        }
        return sum;
    }

    /// <summary>The information matrix of all parameters, rows that are not free made diagonal.</summary>
    private void FillHessian()
    {
        int n = _unknowns, stride = _stride, periods = _timeEffects;
        double largest = 0;
        for (int i = 0; i < n; i++)
            for (int j = i; j < n; j++)
            {
                double h = -_unitSums[i * stride + j];
                if (i >= periods) h += _squares[(i - periods) * _visits.Stride + j - periods];
                else if (j >= periods) h += _mixed[i * _visits.Stride + j - periods];
                else if (i == j) h += _mu[i];
                _factor[i * stride + j] = _free[i] && _free[j] ? h : 0;
                if (i == j)
                    largest = Math.Max(largest, _factor[i * stride + j]);
            }
        for (int i = 0; i < n; i++)
            if (!_free[i])
                _factor[i * stride + i] = largest;
    }

    private bool Factor()
    {
        FillHessian();
        return SymmetricSolve.Factor(_factor, _stride, _unknowns);
    }
}
