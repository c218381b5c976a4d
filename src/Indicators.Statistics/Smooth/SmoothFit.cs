using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Smooth;

/// <summary>
/// The smooth course log E[y_st] = log n_st + α_s + f(t), f a natural cubic spline, unit effects profiled out.
/// </summary>
/// <remarks>
/// Objective: Σ_s m_s Σ_t y_st log p_st − λ/2 ∫f″², with p_st = n_st e^{f(t)} / Σ_u n_su e^{f(u)}: the conditional Poisson likelihood
/// with a roughness penalty. Since the penalty leaves straight lines alone, the maximum exists exactly where the log-linear
/// trend's does; silent periods need no special care. f is known up to a constant and is given with Σ_t f(t) = 0 over the knots.
/// Newton's method in the coordinates of <see cref="SmoothPenalty"/>; a step that would change some ratio of two periods by
/// r on the log scale is shortened by log(1 + r)/r when r is above ½, which can never overshoot a sum of log-sums of exponentials.
/// Close to the maximum the factor is kept. One object a thread; nothing is allocated between fits.
/// </remarks>
public sealed class SmoothFit
{
    private const int MaximumIterations = 200;

    /// <summary>Longer steps than this, on the log scale, are shortened.</summary>
    private const double LongestFreeStep = 0.5;

    /// <summary>Below this step the last factor is good enough for the next one.</summary>
    private const double KeepFactorBelow = 0.05;

    private readonly PanelCounts _panel;
    private readonly int _periods, _stride;
    private readonly double[] _f, _e, _mu, _b, _step, _move, _cross, _half, _factor;
    private readonly ExpectedCounts _expected;
    private readonly TrendFit _trend;

    /// <summary>A workspace for one panel of at least three periods.</summary>
    public SmoothFit(PanelCounts panel)
    {
        if (panel.Periods < 3)
            throw new ArgumentException("Three periods at least.", nameof(panel));
        (_panel, _periods, _stride) = (panel, panel.Periods, panel.Stride);
        _f = new double[_stride];
        _expected = new ExpectedCounts(panel);
        (_e, _mu, _cross) = (_expected.Powers, _expected.Means, _expected.Cross);
        (_b, _step, _move) = (new double[_stride], new double[_stride], new double[_stride]);
        (_half, _factor) = (new double[_stride * _stride], new double[_stride * _stride]);
        _trend = new TrendFit(_periods);
    }

    /// <summary>f(t) at every period of the last fit, natural log scale, adding up to 0.</summary>
    public ReadOnlySpan<double> Effects => _f.AsSpan(0, _periods);

    /// <summary>Newton steps of the last fit.</summary>
    public int Iterations { get; private set; }

    /// <summary>
    /// A smoothing parameter for a panel. The same object serves every resample.
    /// </summary>
    /// <param name="spline">The splines over the panel's times.</param>
    /// <param name="sample">The sample itself, which sets the scale of the coordinates.</param>
    /// <param name="lambda">λ, greater than 0 and finite.</param>
    public static SmoothPenalty PenaltyFor(NaturalSpline spline, Resample sample, double lambda)
    {
        if (!(lambda > 0 && double.IsFinite(lambda)))
            throw new ArgumentOutOfRangeException(nameof(lambda), "The smoothing parameter is positive and finite.");
        return new SmoothPenalty(spline, lambda, InformationScale(sample));
    }

    /// <summary>Fits one resample at a fixed smoothing parameter.</summary>
    /// <param name="sample">The resample of the panel this workspace was made for.</param>
    /// <param name="penalty">The smoothing parameter.</param>
    /// <param name="start">f to start from, such as the sample's own; empty for the straight line of the trend.</param>
    /// <param name="tolerance">The largest last step of f on the log scale.</param>
    /// <returns>
    /// Finite when there is a fit; otherwise why not, as the trend says it. Then <see cref="Effects"/> means nothing.
    /// </returns>
    public SlopeStatus Fit(Resample sample, SmoothPenalty penalty, ReadOnlySpan<double> start, double tolerance = 1e-5)
    {
        Iterations = 0;
        var slope = _trend.Fit(sample, _periods, 0, 0.1);
        if (slope.Status != SlopeStatus.Finite)
            return slope.Status;
        Begin(penalty, start, slope.Value);

        bool haveFactor = false;
        for (int i = 1; i <= MaximumIterations; i++)
        {
            Iterations = i;
            Evaluate(sample, withCross: !haveFactor);
            if (!haveFactor && !Factor(penalty))
                return SlopeStatus.NotConverged;
            haveFactor = true;
            double longest = Step(sample, penalty);
            if (!double.IsFinite(longest))
                return SlopeStatus.NotConverged;
            double share = longest <= LongestFreeStep ? 1 : Math.Log(1 + longest) / longest;
            Apply(share);
            if (longest <= tolerance)
                return SlopeStatus.Finite;
            haveFactor = longest <= KeepFactorBelow;
        }
        return SlopeStatus.NotConverged;
    }

    /// <summary>What the last fit's curvature says: what REML needs and, when wanted, effective degrees of freedom.</summary>
    internal SmoothDiagnostics Diagnose(Resample sample, SmoothPenalty penalty, bool withFreedom = true)
    {
        Evaluate(sample, withCross: true);
        if (!Factor(penalty))
            return new SmoothDiagnostics(double.NaN, double.NaN, double.NaN);
        int m = _periods - 1;
        double logDeterminant = 0, freedom = 1, roughness = 0, logPenalty = 0;
        for (int j = 0; j < m; j++)
        {
            logDeterminant -= Math.Log(_factor[j * _stride + j]) + 2 * Math.Log(penalty.Scale[j]);
            roughness += penalty.Diagonal[j] * _b[j] * _b[j];
            if (j == 0)
                continue;
            logPenalty += Math.Log(penalty.Lambda * penalty.Spline.Bending[j]);
            if (!withFreedom)
                continue;
            Array.Clear(_step);
            _step[j] = 1;
            SymmetricSolve.Solve(_factor, _stride, m, _step);
            freedom += 1 - penalty.Diagonal[j] * _step[j];
        }
        // Σ y log(n e^f / D), the terms in log n left out: no λ changes them.
        double likelihood = 0;
        for (int t = 0; t < _periods; t++)
            likelihood += sample.PeriodCounts[t] * _f[t];
        ref double exposures = ref MemoryMarshal.GetArrayDataReference(_panel.Exposures);
        foreach (int s in sample.Active)
        {
            Vector256<double> sum = default;
            for (int t = 0; t < _periods; t += 4)
                sum = Vector256.FusedMultiplyAdd(
                    Vector256.LoadUnsafe(ref exposures, (nuint)(s * _panel.Stride + t)), Vector256.LoadUnsafe(ref _e[0], (nuint)t), sum);
            likelihood -= sample.Multipliers[s] * Total(s) * Math.Log(Vector256.Sum(sum));
        }
        return new SmoothDiagnostics(withFreedom ? freedom : double.NaN, likelihood - roughness / 2, (logPenalty - logDeterminant) / 2);
    }

    /// <summary>What the last fit leaves over, cell by cell.</summary>
    /// <param name="sample">The resample that was fitted.</param>
    /// <param name="freedom">Its effective degrees of freedom.</param>
    internal SmoothResidual Left(Resample sample, double freedom)
    {
        double deviance = 0, pearson = 0;
        int cells = 0;
        foreach (int s in sample.Active)
        {
            double total = Total(s), denominator = 0, unit = 0;
            for (int t = 0; t < _periods; t++)
                denominator += _panel.Exposure(s, t) * _e[t];
            for (int t = 0; t < _periods; t++)
            {
                double y = _panel.Count(s, t), n = _panel.Exposure(s, t);
                if (n == 0)
                    continue;
                cells++;
                double expected = total * n * _e[t] / denominator;
                pearson += sample.Multipliers[s] * (y - expected) * (y - expected) / expected;
                if (y > 0)
                    unit += y * Math.Log(y / expected);
            }
            deviance += 2 * sample.Multipliers[s] * unit;
        }
        return new SmoothResidual(cells, deviance, pearson, cells - sample.ActiveCount - freedom);
    }

    private double Total(int unit) => _panel.RunningCountsByPeriod[(_periods - 1) * _panel.UnitStride + unit];

    private void Begin(SmoothPenalty penalty, ReadOnlySpan<double> start, double slope)
    {
        int m = _periods - 1;
        double[] axes = penalty.Spline.Axes, times = _panel.Times;
        Array.Clear(_b);
        for (int i = 0; i < _periods; i++)
        {
            double value = start.IsEmpty ? slope * (times[i] - times[0]) : start[i];
            for (int j = 0; j < (start.IsEmpty ? 1 : m); j++)
                _b[j] += axes[i * m + j] * value;
        }
        for (int j = 0; j < m; j++)
            _b[j] /= penalty.Scale[j];
        Array.Clear(_f);
        Multiply(penalty, _b, _f);
    }

    /// <summary>Expected counts μ, and with them Σ_s (m_s Y_s / D_s²) n_s n_sᵀ when a Hessian is wanted.</summary>
    private void Evaluate(Resample sample, bool withCross)
    {
        ref double f = ref MemoryMarshal.GetArrayDataReference(_f);
        for (int t = 0; t < _periods; t += 4)
            FourWide.Exp(Vector256.LoadUnsafe(ref f, (nuint)t)).StoreUnsafe(ref _e[0], (nuint)t);
        _expected.Evaluate(sample, PeriodMask.First(_periods), withCross);
    }

    /// <summary>Bᵀ(diag μ − E C E)B + penalty, factored as LDLᵀ.</summary>
    private bool Factor(SmoothPenalty penalty)
    {
        int n = _periods, m = n - 1, stride = _stride, width = (m + 3) / 4 * 4;
        ref double basis = ref MemoryMarshal.GetArrayDataReference(penalty.Basis);
        ref double half = ref MemoryMarshal.GetArrayDataReference(_half);
        ref double factor = ref MemoryMarshal.GetArrayDataReference(_factor);
        Array.Clear(_half);
        Array.Clear(_factor);
        for (int t = 0; t < n; t++)
        {
            for (int u = 0; u < n; u++)
            {
                double h = -_e[t] * _e[u] * (u < t ? _cross[u * stride + t] : _cross[t * stride + u]) + (t == u ? _mu[t] : 0);
                AddScaledRow(h, ref basis, u, ref half, t, stride, 0, width);
            }
        }
        for (int t = 0; t < n; t++)
            for (int j = 0; j < m; j++)
                AddScaledRow(penalty.Basis[t * stride + j], ref half, t, ref factor, j, stride, j & ~3, width);
        for (int j = 0; j < m; j++)
            _factor[j * stride + j] += penalty.Diagonal[j];
        return SymmetricSolve.Factor(_factor, stride, m);
    }

    private static void AddScaledRow(double scale, ref double from, int fromRow, ref double to, int toRow, int stride, int first, int width)
    {
        var by = Vector256.Create(scale);
        for (int c = first; c < width; c += 4)
        {
            nuint target = (nuint)(toRow * stride + c);
            Vector256.FusedMultiplyAdd(by, Vector256.LoadUnsafe(ref from, (nuint)(fromRow * stride + c)), Vector256.LoadUnsafe(ref to, target))
                .StoreUnsafe(ref to, target);
        }
    }

    /// <summary>The Newton step in coordinates and in f; returns the largest change of any ratio of two periods, log scale.</summary>
    private double Step(Resample sample, SmoothPenalty penalty)
    {
        int m = _periods - 1;
        Array.Clear(_step);
        ref double basis = ref MemoryMarshal.GetArrayDataReference(penalty.Basis);
        ref double step = ref MemoryMarshal.GetArrayDataReference(_step);
        int width = (m + 3) / 4 * 4;
        for (int t = 0; t < _periods; t++)
            AddScaledRow(sample.PeriodCounts[t] - _mu[t], ref basis, t, ref step, 0, _stride, 0, width);
        for (int j = 0; j < m; j++)
            _step[j] -= penalty.Diagonal[j] * _b[j];
        SymmetricSolve.Solve(_factor, _stride, m, _step);
        Multiply(penalty, _step, _move);
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        for (int t = 0; t < _periods; t++)
        {
            low = Math.Min(low, _move[t]);
            high = Math.Max(high, _move[t]);
        }
        return high - low;
    }

    private void Apply(double share)
    {
        for (int j = 0; j < _periods - 1; j++)
            _b[j] += share * _step[j];
        for (int t = 0; t < _periods; t++)
            _f[t] += share * _move[t];
    }

    private void Multiply(SmoothPenalty penalty, double[] b, double[] into)
    {
        ref double basis = ref MemoryMarshal.GetArrayDataReference(penalty.Basis);
        ref double coordinates = ref MemoryMarshal.GetArrayDataReference(b);
        int width = (_periods + 2) / 4 * 4;
        for (int t = 0; t < _periods; t++)
        {
            Vector256<double> sum = default;
            for (int c = 0; c < width; c += 4)
                sum = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref basis, (nuint)(t * _stride + c)), Vector256.LoadUnsafe(ref coordinates, (nuint)c), sum);
            into[t] = Vector256.Sum(sum);
        }
    }

    /// <summary>The expected count of a period, on average: the order of the information in any direction.</summary>
    private static double InformationScale(Resample sample)
    {
        double sum = 0;
        for (int t = 0; t < sample.Panel.Periods; t++)
            sum += sample.PeriodCounts[t];
        return Math.Max(sum, 1e-6) / sample.Panel.Periods;
    }
}

/// <summary>What choosing λ by REML needs to know of one fit.</summary>
/// <param name="Freedom">Effective degrees of freedom of f: 1 for a straight line, periods − 1 for the annual model; NaN when not wanted.</param>
/// <param name="PenalisedLikelihood">The penalised conditional log-likelihood, less what no λ changes.</param>
/// <param name="LogDeterminants">½ log|λK|₊ − ½ log|H + λK| over all curves but the constant.</param>
internal readonly record struct SmoothDiagnostics(double Freedom, double PenalisedLikelihood, double LogDeterminants);

/// <summary>How far the counts lie from one fit.</summary>
/// <param name="Cells">How many cells there are.</param>
/// <param name="Deviance">D.</param>
/// <param name="Pearson">Σ (y − μ)²/μ.</param>
/// <param name="Degrees">n − units − effective degrees of freedom.</param>
internal readonly record struct SmoothResidual(int Cells, double Deviance, double Pearson, double Degrees)
{
    /// <summary>n D/(n − units − edf)²; NaN when no degree of freedom is left.</summary>
    public double Gcv => Degrees > 0 ? Cells * Deviance / (Degrees * Degrees) : double.NaN;
}
