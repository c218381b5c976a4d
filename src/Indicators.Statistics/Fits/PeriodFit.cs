using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Fits;

/// <summary>
/// The annual model log E[y_st] = log n_st + α_s + γ_t, unit effects profiled out.
/// </summary>
/// <remarks>
/// Objective: ℓ(γ) = Σ_s m_s Σ_t y_st log p_st with p_st = n_st e^{γ_t} / Σ_u n_su e^{γ_u}. Gradient: c_t − μ_t with
/// c_t = Σ_s m_s y_st and μ_t = Σ_s m_s Y_s p_st. Hessian: −(diag μ − Σ_s m_s Y_s p_s p_sᵀ), rank one less than the periods,
/// so the last linked period is held still. A first step by proportional fitting, then Newton's method; close to the
/// maximum the factor is kept for several steps. No units × (units + periods) matrix is ever formed: the Hessian is built
/// from blocks of units held in the first-level cache, in a fixed order.
/// One object a thread; nothing is allocated between fits.
/// </remarks>
public sealed class PeriodFit
{
    private const int MaximumIterations = 200;

    /// <summary>Newton steps longer than this on the log scale are replaced by proportional fitting, which never overshoots.</summary>
    private const double LongestStep = 2;

    /// <summary>Below this step the last factor is good enough for the next one.</summary>
    private const double KeepFactorBelow = 0.05;

    private readonly int _stride;
    private readonly double[] _gamma, _linkedMask, _e, _mu, _cross, _factor, _step;
    private readonly UInt128[] _reach;
    private readonly ExpectedCounts _expected;

    /// <summary>A workspace for one panel.</summary>
    public PeriodFit(PanelCounts panel)
    {
        _stride = panel.Stride;
        _gamma = new double[_stride];
        _linkedMask = new double[_stride];
        _expected = new ExpectedCounts(panel);
        (_e, _mu, _cross) = (_expected.Powers, _expected.Means, _expected.Cross);
        _step = new double[_stride];
        _factor = new double[_stride * _stride];
        _reach = new UInt128[panel.Periods];
    }

    /// <summary>The periods with a finite effect in the last fit, as bits; 0 when there is no reference.</summary>
    public UInt128 Linked { get; private set; }

    /// <summary>The periods forced to zero in the last fit, as bits.</summary>
    public UInt128 Zero { get; private set; }

    /// <summary>How often the Hessian was built in the last fit.</summary>
    public int Hessians { get; private set; }

    /// <summary>Whether the last fit has a reference component and converged.</summary>
    public bool Succeeded { get; private set; }

    /// <summary>How a period stood in the last fit.</summary>
    public PeriodStatus StatusOf(int period) =>
        (Linked >> period & 1) != 0 ? PeriodStatus.Linked
        : (Zero >> period & 1) != 0 ? PeriodStatus.ForcedToZero
        : PeriodStatus.NotLinked;

    /// <summary>γ of each period of the last fit, natural log scale; meaningful for linked periods up to one common constant.</summary>
    public ReadOnlySpan<double> Effects => _gamma.AsSpan(0, _reach.Length);

    /// <summary>Fits one resample.</summary>
    /// <param name="sample">The resample of the panel this workspace was made for.</param>
    /// <param name="reference">Which periods are the reference (the baseline), true or false a period.</param>
    /// <param name="start">Effects to start from, one a period; empty for zeros.</param>
    /// <param name="tolerance">
    /// The largest last step of any effect on the log scale. What is left after it is smaller by the contraction of a step
    /// with a kept factor, about a twentieth.
    /// </param>
    /// <returns>Whether there is a fit; false when the reference periods are silent or cannot be compared.</returns>
    public bool Fit(Resample sample, ReadOnlySpan<bool> reference, ReadOnlySpan<double> start, double tolerance = 1e-5)
    {
        Hessians = 0;
        Succeeded = false;
        var (linked, zero) = Compare(sample, reference);
        (Linked, Zero) = (linked, zero);
        if (linked == 0)
            return false;

        int periods = sample.Panel.Periods;
        int last = 127 - (int)UInt128.LeadingZeroCount(linked);
        for (int t = 0; t < periods; t++)
        {
            bool isLinked = (linked >> t & 1) != 0;
            _gamma[t] = start.IsEmpty || !isLinked ? 0 : start[t];
            _linkedMask[t] = isLinked ? 1 : 0;
        }
        if (UInt128.PopCount(linked) == 1)
            return Succeeded = true;

        bool haveFactor = false, proportional = true;
        for (int i = 0; i < MaximumIterations; i++)
        {
            Evaluate(sample, withCross: !haveFactor && !proportional);
            double longest;
            if (proportional)
            {
                longest = ProportionalStep(sample.PeriodCounts, last);
                proportional = false;
            }
            else
            {
                if (!haveFactor && !Factor(last))
                {
                    proportional = true;
                    continue;
                }
                haveFactor = true;
                longest = NewtonStep(sample.PeriodCounts, last);
                if (!(longest <= LongestStep))
                {
                    (haveFactor, proportional) = (false, true);
                    continue;
                }
                if (longest <= tolerance)
                {
                    Apply();
                    return Succeeded = true;
                }
                haveFactor = longest <= KeepFactorBelow;
            }
            Apply();
        }
        return false;
    }

    /// <summary>Finds which periods can be compared in a resample, without fitting it.</summary>
    /// <param name="sample">The resample.</param>
    /// <param name="reference">Which periods are the reference.</param>
    /// <returns>The linked periods and those forced to zero, as bits.</returns>
    public (UInt128 Linked, UInt128 Zero) Compare(Resample sample, ReadOnlySpan<bool> reference)
    {
        UInt128 referenceBits = 0;
        for (int t = 0; t < reference.Length; t++)
            if (reference[t]) referenceBits |= UInt128.One << t;
        PeriodComponent.Find(sample, referenceBits, _reach, out var linked, out var zero);
        return (linked, zero);
    }

    /// <summary>Fits the sample itself, once, to full precision.</summary>
    public static PeriodFit Of(PanelCounts panel, ReadOnlySpan<bool> reference)
    {
        var fit = new PeriodFit(panel);
        fit.Fit(new Resample(panel), reference, default, 1e-13);
        return fit;
    }

    /// <summary>
    /// The model's covariance of γ_t − γ_last over the linked periods after a fit, the last linked period held still;
    /// zero elsewhere. Trusts the Poisson variance and independent units.
    /// </summary>
    /// <param name="sample">The resample that was fitted.</param>
    public double[,] ModelCovariance(Resample sample)
    {
        int periods = _reach.Length;
        int last = 127 - (int)UInt128.LeadingZeroCount(Linked);
        var covariance = new double[periods, periods];
        Evaluate(sample, withCross: true);
        if (!Succeeded || !Factor(last))
            return covariance;
        for (int column = 0; column < periods; column++)
        {
            if (column == last || StatusOf(column) != PeriodStatus.Linked)
                continue;
            Array.Clear(_step);
            _step[column] = 1;
            SymmetricSolve.Solve(_factor, _stride, periods, _step);
            for (int row = 0; row < periods; row++)
                covariance[row, column] = _step[row];
        }
        return covariance;
    }

    /// <summary>Expected counts at the current effects, and their cross products when a Hessian is wanted.</summary>
    private void Evaluate(Resample sample, bool withCross)
    {
        Hessians += withCross ? 1 : 0;
        ref double gamma = ref MemoryMarshal.GetArrayDataReference(_gamma);
        for (int t = 0; t < _reach.Length; t += 4)
            (FourWide.Exp(Vector256.LoadUnsafe(ref gamma, (nuint)t)) * Vector256.LoadUnsafe(ref _linkedMask[0], (nuint)t))
                .StoreUnsafe(ref _e[0], (nuint)t);
        _expected.Evaluate(sample, Linked, withCross);
    }

    /// <summary>Proportional fitting, γ_t += log(c_t / μ_t): raises the likelihood always, and is exact on balanced data.</summary>
    private double ProportionalStep(double[] counts, int last)
    {
        double shift = Math.Log(counts[last] / _mu[last]), longest = 0;
        for (int t = 0; t < _reach.Length; t++)
        {
            if (_linkedMask[t] == 0)
            {
                _step[t] = 0;
                continue;
            }
            _step[t] = Math.Log(counts[t] / _mu[t]) - shift;
            longest = Math.Max(longest, Math.Abs(_step[t]));
        }
        return longest;
    }

    /// <summary>The information matrix, with every row that is not free made diagonal, factored as LDLᵀ.</summary>
    private bool Factor(int last)
    {
        int periods = _reach.Length, stride = _stride;
        double placeholder = _mu[last];
        for (int t = 0; t < periods; t++)
        {
            // Unlinked periods have e = 0, so their rows and columns vanish by themselves.
            double minus = t == last ? 0 : -_e[t];
            for (int u = t; u < periods; u++)
                _factor[t * stride + u] = minus * _cross[t * stride + u] * _e[u];
            _factor[t * stride + last] = 0;
            _factor[t * stride + t] = minus == 0 ? placeholder : _factor[t * stride + t] + _mu[t];
        }
        return SymmetricSolve.Factor(_factor, stride, periods);
    }

    private double NewtonStep(double[] counts, int last)
    {
        int periods = _reach.Length;
        for (int t = 0; t < periods; t++)
            _step[t] = _linkedMask[t] * (counts[t] - _mu[t]);
        _step[last] = 0;
        SymmetricSolve.Solve(_factor, _stride, periods, _step);
        double longest = 0;
        for (int t = 0; t < periods; t++)
            longest = Math.Max(longest, Math.Abs(_step[t]));
        return longest;
    }

    private void Apply()
    {
        for (int t = 0; t < _reach.Length; t++)
            _gamma[t] += _linkedMask[t] * _step[t];
    }
}
