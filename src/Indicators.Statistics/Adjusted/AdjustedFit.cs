using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Adjusted;

/// <summary>
/// Trend or annual course with covariates of single visits, unit effects profiled out.
/// </summary>
/// <remarks>
/// Objective: ℓ = Σ_s m_s Σ_v y_v log p_v, p_v = e^{η_v} / Σ_{w in s} e^{η_w}, η_v = β t + x_vᵀθ or γ_t + x_vᵀθ: given its total, a unit is
/// multinomial over its visits. Gradient: Σ_v (m_s y_v − μ_v) z_v with μ_v = m_s Y_s p_v, z_v the visit's whole row. Hessian:
/// −Σ_s m_s Y_s (Σ_v p_v z_v z_vᵀ − z̄_s z̄_sᵀ), z̄_s = Σ_v p_v z_v. Newton's method; a step that would change some ratio of two visits
/// of a unit by r on the log scale is shortened by log(1 + r)/r when r is above ½, which cannot overshoot. Effects are per standard
/// deviation of the covariate. A covariate that does not vary within units, or whose variation within units the time
/// effects and the covariates before it already have, is held at 0 and said to be not estimable; so in a resample that loses
/// its variation. One object a thread; nothing is allocated between fits.
/// </remarks>
public sealed partial class AdjustedFit
{
    private const int MaximumIterations = 200;
    private const double LongestFreeStep = 0.5;

    /// <summary>Below this step the last factor is good enough for the next one.</summary>
    private const double KeepFactorBelow = 0.05;

    /// <summary>Two visits of a unit further apart than this on the log scale: effects are on their way to infinity.</summary>
    private const double RunAway = 60;

    /// <summary>A column that keeps less than this part of its squares once the others are taken out adds nothing.</summary>
    private const double SmallestShare = 1e-9;

    private readonly VisitPanel _visits;
    private readonly AdjustedModel _model;
    private readonly int _timeEffects, _unknowns, _stride;
    private readonly double[] _theta, _move, _gradient, _observed, _factor, _unitSums, _unitBlock;
    private readonly double[] _squares, _block, _mixed, _mu, _eta, _etaMove, _e;
    private readonly bool[] _free;
    private readonly UInt128[] _reach;
    private readonly TrendFit? _trend;
    private UInt128 _linked, _zero;
    private int _last;

    /// <summary>A workspace.</summary>
    /// <param name="visits">The visits.</param>
    /// <param name="model">Trend or annual.</param>
    public AdjustedFit(VisitPanel visits, AdjustedModel model)
    {
        (_visits, _model) = (visits, model);
        int periods = visits.Panel.Periods, n = visits.InformativeVisits;
        _timeEffects = model == AdjustedModel.Annual ? periods : 0;
        _unknowns = _timeEffects + visits.Columns;
        _stride = CrossProducts.StrideOf(_unknowns);
        (_theta, _move) = (new double[_stride], new double[_stride]);
        (_gradient, _observed) = (new double[_stride], new double[_stride]);
        (_factor, _unitSums) = (new double[_stride * _stride], new double[_stride * _stride]);
        _unitBlock = new double[CrossProducts.Block * _stride];
        (_squares, _block) = (new double[visits.Stride * visits.Stride], new double[CrossProducts.Block * visits.Stride]);
        (_mixed, _mu) = (new double[periods * visits.Stride], new double[periods]);
        (_eta, _etaMove, _e) = (new double[n + PanelCounts.Lanes], new double[n + PanelCounts.Lanes], new double[n + PanelCounts.Lanes]);
        _free = new bool[_unknowns];
        _reach = new UInt128[periods];
        _trend = model == AdjustedModel.Trend ? new TrendFit(periods) : null;
    }

    /// <summary>Whether the last fit exists.</summary>
    public AdjustedStatus Status { get; private set; } = AdjustedStatus.None;

    /// <summary>Newton steps of the last fit.</summary>
    public int Iterations { get; private set; }

    /// <summary>How often the Hessian was built in the last fit.</summary>
    public int Hessians { get; private set; }

    /// <summary>β of the last trend fit, natural log scale, per unit of time.</summary>
    public double Slope => _model == AdjustedModel.Trend ? _theta[0] / _visits.HalfSpan : double.NaN;

    /// <summary>γ of each period of the last annual fit, natural log scale; meaningful for linked periods up to one common constant.</summary>
    public ReadOnlySpan<double> Effects => _theta.AsSpan(0, _timeEffects);

    /// <summary>θ of the last fit: the log effect of one standard deviation of each covariate; 0 where not estimable.</summary>
    public ReadOnlySpan<double> Coefficients => _theta.AsSpan(_timeEffects + 1, _visits.Columns - 1);

    /// <summary>Whether a covariate's effect could be told from all else in the last fit.</summary>
    public bool IsEstimable(int covariate) => _free[_timeEffects + 1 + covariate];

    /// <summary>How a period stood in the last annual fit.</summary>
    public PeriodStatus StatusOf(int period) =>
        (_linked >> period & 1) != 0 ? PeriodStatus.Linked : (_zero >> period & 1) != 0 ? PeriodStatus.ForcedToZero : PeriodStatus.NotLinked;

    /// <summary>Everything that was fitted, as a copy to start other fits from.</summary>
    public AdjustedStart ToStart() => new(_theta.AsSpan(0, _unknowns).ToArray(), [.. _free]);

    /// <summary>Fits the sample itself, once, to full precision.</summary>
    /// <param name="visits">The visits.</param>
    /// <param name="model">Trend or annual.</param>
    /// <param name="reference">Which periods are the reference of an annual course; not used by a trend.</param>
    public static AdjustedFit Of(VisitPanel visits, AdjustedModel model, ReadOnlySpan<bool> reference = default)
    {
        var fit = new AdjustedFit(visits, model);
        fit.Fit(new Resample(visits.Panel), reference, null, 1e-12);
        return fit;
    }

    /// <summary>Fits one resample.</summary>
    /// <param name="sample">A resample of the visits' panel.</param>
    /// <param name="reference">Which periods are the reference of an annual course; not used by a trend.</param>
    /// <param name="start">Where to start, best the sample's own fit with the same model; null for zeros.</param>
    /// <param name="tolerance">The largest last change of any ratio of two visits of a unit, log scale.</param>
    public AdjustedStatus Fit(Resample sample, ReadOnlySpan<bool> reference, AdjustedStart? start, double tolerance = 1e-5)
    {
        (Iterations, Hessians) = (0, 0);
        if (!TimeEffectsExist(sample, reference))
            return Status;
        SumObserved(sample);
        if (start is null)
        {
            FindEstimable(sample);
            return Status = Iterate(sample, null, tolerance, begun: true);
        }
        // The sample's own columns first; only if those collapse in this resample are its own looked for.
        HoldTimeEffects();
        for (int j = 1; j < _visits.Columns; j++)
            _free[_timeEffects + j] = start.Free[_timeEffects + j];
        Status = Iterate(sample, start.Parameters, tolerance);
        if ((Status is AdjustedStatus.Separated or AdjustedStatus.NotConverged) && FindEstimable(sample))
            Status = Iterate(sample, null, tolerance, begun: true);
        return Status;
    }

    /// <summary>
    /// The model's covariance of all parameters after a fit, the last linked period held still: covariates per standard
    /// deviation, the trend per unit of time in place 0. Zero for what was not free. Trusts the Poisson variance and
    /// independent units.
    /// </summary>
    /// <param name="sample">The resample that was fitted.</param>
    public double[,] ModelCovariance(Resample sample)
    {
        var covariance = new double[_unknowns, _unknowns];
        if (Status != AdjustedStatus.Finite)
            return covariance;
        Evaluate(sample, withHessian: true);
        if (!Factor())
            return covariance;
        for (int column = 0; column < _unknowns; column++)
        {
            if (!_free[column])
                continue;
            Array.Clear(_move);
            _move[column] = 1;
            SymmetricSolve.Solve(_factor, _stride, _unknowns, _move);
            for (int row = 0; row < _unknowns; row++)
                covariance[row, column] = _free[row] ? _move[row] / (TimeScale(row) * TimeScale(column)) : 0;
        }
        return covariance;
    }

    /// <summary>Where a covariate's parameter stands in <see cref="ModelCovariance"/>.</summary>
    public int IndexOf(int covariate) => _timeEffects + 1 + covariate;

    /// <summary>The last fit's conditional log-likelihood Σ_s m_s Σ_v y_v log p_v, without multinomial coefficients.</summary>
    /// <param name="sample">The resample that was fitted.</param>
    public double LogLikelihood(Resample sample)
    {
        Evaluate(sample, withHessian: false);
        double sum = 0;
        foreach (int s in sample.Active)
        {
            double denominator = 0, unit = 0;
            for (int v = _visits.First[s]; v < _visits.First[s + 1]; v++)
                denominator += _e[v];
            for (int v = _visits.First[s]; v < _visits.First[s + 1]; v++)
                if (_visits.Counts[v] > 0)
                    unit += _visits.Counts[v] * Math.Log(_e[v] / denominator);
            sum += sample.Multipliers[s] * unit;
        }
        return sum;
    }

    /// <summary>The season residuals of the last fit: observed over expected, less 1; 0 where nothing is expected.</summary>
    /// <param name="sample">The resample that was fitted.</param>
    /// <param name="residuals">At [period × stride]; overwritten.</param>
    /// <param name="stride">How far apart periods are.</param>
    public void FillResiduals(Resample sample, Span<double> residuals, int stride)
    {
        Evaluate(sample, withHessian: false);
        for (int t = 0; t < _mu.Length; t++)
            residuals[t * stride] = _mu[t] > 0 ? sample.PeriodCounts[t] / _mu[t] - 1 : 0;
    }

    private double TimeScale(int parameter) => _timeEffects == 0 && parameter == 0 ? _visits.HalfSpan : 1;

    /// <summary>Whether trend or periods have a maximum by themselves; covariates can only be added to one that has.</summary>
    private bool TimeEffectsExist(Resample sample, ReadOnlySpan<bool> reference)
    {
        if (_trend is not null)
        {
            Status = _trend.Fit(sample, sample.Panel.Periods, 0, 0.1).Status switch
            {
                SlopeStatus.Finite => AdjustedStatus.Finite,
                SlopeStatus.None => AdjustedStatus.None,
                SlopeStatus.MinusInfinity => AdjustedStatus.MinusInfinity,
                SlopeStatus.PlusInfinity => AdjustedStatus.PlusInfinity,
                _ => AdjustedStatus.NotConverged,
            };
            _linked = UInt128.MaxValue;
            return Status == AdjustedStatus.Finite;
        }
        UInt128 bits = 0;
        for (int t = 0; t < reference.Length; t++)
            if (reference[t]) bits |= UInt128.One << t;
        PeriodComponent.Find(sample, bits, _reach, out _linked, out _zero);
        Status = _linked == 0 ? AdjustedStatus.None : AdjustedStatus.Finite;
        _last = 127 - (int)UInt128.LeadingZeroCount(_linked);
        return _linked != 0;
    }

    private void SumObserved(Resample sample)
    {
        Array.Clear(_observed);
        for (int t = 0; t < _timeEffects; t++)
            _observed[t] = sample.PeriodCounts[t];
        foreach (int s in sample.Active)
            if (IsUsed(s))
                for (int j = 0; j < _visits.Columns; j++)
                    _observed[_timeEffects + j] += sample.Multipliers[s] * _visits.Observed[s * _visits.Stride + j];
    }

    /// <summary>A unit with counts outside the linked periods has none inside them.</summary>
    private bool IsUsed(int unit) => (_visits.Panel.Heard[unit] & _linked) != 0;

    private void HoldTimeEffects()
    {
        Array.Clear(_free);
        for (int t = 0; t < _timeEffects; t++)
            _free[t] = t != _last && (_linked >> t & 1) != 0;
        // The time column is the trend; beside period effects it has nothing to add.
        _free[_timeEffects] = _timeEffects == 0;
    }

    /// <summary>
    /// Which columns vary within units beyond those before them: elimination on the Hessian at zero effects, where every visit of
    /// a unit weighs alike. True when that frees fewer columns than were free.
    /// </summary>
    private bool FindEstimable(Resample sample)
    {
        int before = _free.Count(f => f);
        HoldTimeEffects();
        for (int j = 1; j < _visits.Columns; j++)
            _free[_timeEffects + j] = _visits.Covariates[j - 1].StandardDeviation > 0;
        Begin(null);
        Evaluate(sample, withHessian: true);
        FillHessian();
        int n = _unknowns;
        for (int i = 0; i < n; i++)
        {
            if (!_free[i])
                continue;
            double pivot = _factor[i * _stride + i];
            double own = i < _timeEffects ? _mu[i] : _squares[(i - _timeEffects) * _visits.Stride + i - _timeEffects];
            if (!(pivot > SmallestShare * own))
            {
                _free[i] = false;
                continue;
            }
            for (int r = i + 1; r < n; r++)
            {
                double share = _factor[i * _stride + r] / pivot;
                if (share == 0)
                    continue;
                for (int c = r; c < n; c++)
                    _factor[r * _stride + c] -= share * _factor[i * _stride + c];
            }
        }
        return _free.Count(f => f) < before;
    }

    /// <summary>Newton's steps; when begun, from the zero effects at which the Hessian has just been evaluated.</summary>
    private AdjustedStatus Iterate(Resample sample, double[]? start, double tolerance, bool begun = false)
    {
        if (!begun)
            Begin(start);
        bool haveFactor = false, any = _free.Contains(true);
        for (int i = 1; any && i <= MaximumIterations; i++)
        {
            Iterations++;
            if (i > 1 || !begun)
                Evaluate(sample, withHessian: !haveFactor);
            if (!haveFactor && !Factor())
                return AdjustedStatus.Separated;
            haveFactor = true;
            for (int k = 0; k < _unknowns; k++)
                _move[k] = _free[k] ? _observed[k] - _gradient[k] : 0;
            SymmetricSolve.Solve(_factor, _stride, _unknowns, _move);
            var (longest, widest) = PredictorRange(sample);
            if (!double.IsFinite(longest))
                return AdjustedStatus.NotConverged;
            if (widest > RunAway)
                return AdjustedStatus.Separated;
            double share = longest <= LongestFreeStep ? 1 : Math.Log(1 + longest) / longest;
            for (int k = 0; k < _unknowns; k++)
                _theta[k] += share * _move[k];
            for (int v = 0; v < _visits.InformativeVisits; v++)
                _eta[v] += share * _etaMove[v];
            if (longest <= tolerance)
                return AdjustedStatus.Finite;
            haveFactor = longest <= KeepFactorBelow;
        }
        return any ? AdjustedStatus.NotConverged : AdjustedStatus.Finite;
    }

    private void Begin(double[]? start)
    {
        Array.Clear(_theta);
        Array.Clear(_eta);
        if (start is null)
            return;
        for (int k = 0; k < _unknowns; k++)
            _theta[k] = _free[k] || (k == _last && _timeEffects > 0) ? start[k] : 0;
        for (int v = 0; v < _visits.InformativeVisits; v++)
            _eta[v] = Predict(_theta, v);
    }

    private double Predict(double[] parameters, int visit)
    {
        ref double rows = ref MemoryMarshal.GetArrayDataReference(_visits.Rows.Values);
        ref double p = ref MemoryMarshal.GetArrayDataReference(parameters);
        int row = _visits.RowOf[visit] * _visits.Stride;
        Vector256<double> sum = default;
        for (int c = 0; c < _visits.Columns; c += PanelCounts.Lanes)
            sum = Vector256.FusedMultiplyAdd(
                Vector256.LoadUnsafe(ref rows, (nuint)(row + c)), Vector256.LoadUnsafe(ref p, (nuint)(_timeEffects + c)), sum);
        return Vector256.Sum(sum) + (_timeEffects == 0 ? 0 : parameters[_visits.Periods[visit]]);
    }

    /// <summary>
    /// What the step does to every visit's predictor; the widest range of that within a unit, and of the predictor itself.
    /// </summary>
    private (double Longest, double Widest) PredictorRange(Resample sample)
    {
        double longest = 0, widest = 0;
        foreach (int s in sample.Active)
        {
            if (!IsUsed(s))
                continue;
            double low = double.PositiveInfinity, high = double.NegativeInfinity, lowest = low, highest = high;
            for (int v = _visits.First[s]; v < _visits.First[s + 1]; v++)
            {
                if (_timeEffects > 0 && (_linked >> _visits.Periods[v] & 1) == 0)
                    continue;
                double move = _etaMove[v] = Predict(_move, v);
                low = Math.Min(low, move);
                high = Math.Max(high, move);
                lowest = Math.Min(lowest, _eta[v]);
                highest = Math.Max(highest, _eta[v]);
            }
            longest = Math.Max(longest, high - low);
            widest = Math.Max(widest, highest - lowest);
            if (double.IsNaN(high - low))
                return (double.NaN, widest);
        }
        return (longest, widest);
    }
}
