using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// The log-likelihood of detection histories under the multi-season occupancy model, with its gradient and observed
/// information; one season is the case without transitions.
/// </summary>
/// <remarks>
/// MacKenzie et al. 2002, "Estimating site occupancy rates when detection probabilities are less than one"; MacKenzie et
/// al. 2003, "Estimating site occupancy, colonization, and local extinction when a species is detected imperfectly".
/// A site's state z_t is a two-state Markov chain: z_1 = 1 with probability ψ, empty sites become occupied at rate γ_t and
/// occupied ones empty at rate ε_t; a visit detects with probability z_t p. ψ, γ, ε and p are logistic, p with an intercept
/// a slot. A season's visits enter as Π(1 − p) when silent and Π p^y (1 − p)^(1 − y) when not.
/// Value: the forward recursion, scaled to sum to 1 in every season. Gradient: the expectation, given the data, of the
/// gradient as if states were known. Information: the expected information as if states were known (complete) less the
/// variance, given the data, of that gradient (missing; Louis 1982, "Finding the observed information matrix when using the
/// EM algorithm"). The variance is summed along the chain run backwards in time, which is Markov too: each season adds
/// one outer product for each state of the season after it. Nothing is differenced.
/// Parameters of ±∞ are allowed where they decide a probability alone; their derivatives are 0.
/// One object a thread; nothing is allocated between calls, and sums run in a fixed order.
/// </remarks>
public sealed partial class OccupancyLikelihood
{
    private readonly DetectionHistories _data;
    private readonly TransitionGroups _groups;
    private readonly HistoryPieces _pieces;
    private readonly bool _sharesRates;
    private readonly double[] _weights;
    private readonly int _stride;
    private readonly double[] _colonise, _stay, _vanish, _remain;
    private readonly double[] _p, _q, _logP, _logQ, _silentWeight;
    private readonly double[] _filtered, _fromEmpty, _fromOccupied, _smoothed, _missed;
    private readonly double[] _gradient, _complete, _missing;
    private double[] _past0, _past1, _next0, _next1;
    private readonly double[] _difference, _outers;
    private int _outerCount;
    private double _psi, _notPsi;

    /// <summary>A workspace for one set of histories.</summary>
    /// <param name="data">The histories.</param>
    /// <param name="groups">Which intervals share rates; as many seasons as the histories have.</param>
    public OccupancyLikelihood(DetectionHistories data, TransitionGroups groups)
    {
        if (groups.Seasons != data.Seasons) throw new ArgumentException("Groups and histories differ in seasons.", nameof(groups));
        (_data, _groups, _pieces) = (data, groups, data.Pieces);
        // With the same rates in all seasons it does not matter when a pattern starts.
        _sharesRates = groups.ColonisationRates <= 1 && groups.ExtinctionRates <= 1;
        _weights = _sharesRates ? data.PatternWeights : data.PieceWeights;
        Layout = new OccupancyLayout(data.SiteCovariates, groups.ColonisationRates, groups.ExtinctionRates, data.Slots, data.VisitCovariates);
        int count = Layout.Count, rows = (data.RowSlots.Length + 3) / 4 * 4, seasons = data.Seasons;
        int width = (count + 3) / 4 * 4;
        _stride = CrossProducts.StrideOf(count);
        (_colonise, _stay, _vanish, _remain) = (new double[seasons], new double[seasons], new double[seasons], new double[seasons]);
        (_p, _q, _logP, _logQ, _silentWeight) = (new double[rows], new double[rows], new double[rows], new double[rows], new double[rows]);
        (_filtered, _fromEmpty, _fromOccupied) = (new double[seasons], new double[seasons], new double[seasons]);
        (_smoothed, _missed) = (new double[seasons], new double[seasons]);
        (_gradient, _complete, _missing) = (new double[count], new double[_stride * _stride], new double[_stride * _stride]);
        (_past0, _past1, _next0, _next1) = (new double[width], new double[width], new double[width], new double[width]);
        (_difference, _outers) = (new double[width], new double[CrossProducts.Block * _stride]);
    }

    /// <summary>The order of the parameters.</summary>
    public OccupancyLayout Layout { get; }

    /// <summary>The histories.</summary>
    public DetectionHistories Data => _data;

    /// <summary>The gradient at the point of the last <see cref="Derivatives"/>.</summary>
    public ReadOnlySpan<double> Gradient => _gradient;

    /// <summary>The observed information −∂²ℓ/∂θ_i ∂θ_j at the point of the last <see cref="Derivatives"/>.</summary>
    public double Information(int i, int j) => Complete(i, j) - _missing[Math.Min(i, j) * _stride + Math.Max(i, j)];

    /// <summary>The information as if states were known, at the same point; positive semidefinite.</summary>
    internal double Complete(int i, int j) => _complete[Math.Min(i, j) * _stride + Math.Max(i, j)];

    /// <summary>The log-likelihood; −∞ where the data cannot happen.</summary>
    /// <param name="parameters">One value a parameter, on the logit scale, in the order of <see cref="Layout"/>.</param>
    public double Value(ReadOnlySpan<double> parameters)
    {
        SetRates(parameters);
        double value = KnownValue();
        for (int i = 0; i < _weights.Length; i++)
            if (_weights[i] > 0 && _pieces.StepStart[PatternOf(i)] < _pieces.StepStart[PatternOf(i) + 1])
                value += _weights[i] * Forward(PatternOf(i), StartOf(i), parameters);
        return double.IsNaN(value) ? double.NegativeInfinity : value;
    }

    /// <summary>
    /// The chance that a site is occupied after each season, given what was seen up to it; before any visit the chance is
    /// what the rates alone say.
    /// </summary>
    /// <param name="parameters">The parameters.</param>
    /// <param name="site">The site.</param>
    /// <param name="chances">One place a season.</param>
    public void Filter(ReadOnlySpan<double> parameters, int site, Span<double> chances)
    {
        SetRates(parameters);
        FilterAfterRates(parameters, site, chances);
    }

    /// <summary>The same for all sites, site after site.</summary>
    /// <param name="parameters">The parameters.</param>
    /// <param name="chances">Sites × seasons places.</param>
    public void FilterAll(ReadOnlySpan<double> parameters, Span<double> chances)
    {
        SetRates(parameters);
        int seasons = _data.Seasons;
        for (int s = 0; s < _data.Sites; s++)
            FilterAfterRates(parameters, s, chances.Slice(s * seasons, seasons));
    }

    /// <summary>The largest finite linear predictor, on either side, of the parts that have effects; 0 without effects.</summary>
    internal double LargestWithEffects(ReadOnlySpan<double> parameters)
    {
        int q = _data.VisitCovariates, c = _data.SiteCovariates;
        double largest = 0;
        for (int r = 0; r < _data.RowSlots.Length && q > 0; r++)
        {
            double eta = DetectionPredictor(r, parameters);
            if (double.IsFinite(eta) && _data.RowVisits[r] > 0)
                largest = Math.Max(largest, Math.Abs(eta));
        }
        for (int i = 0; i < _data.Patterns && c > 0; i++)
            if (_data.SitesBeginning(i) > 0)
                largest = Math.Max(largest, Math.Abs(InitialPredictor(i, parameters)));
        return largest;
    }

    private int PatternOf(int place) => _sharesRates ? place : _pieces.Pattern[place];

    private int StartOf(int place) => _sharesRates ? 0 : _pieces.Start[place];

    private double DetectionPredictor(int row, ReadOnlySpan<double> parameters)
    {
        int q = _data.VisitCovariates, first = Layout.FirstDetectionEffect;
        double eta = parameters[Layout.FirstDetection + _data.RowSlots[row]];
        for (int k = 0; k < q; k++)
            eta += parameters[first + k] * _data.RowCovariates[row * q + k];
        return eta;
    }

    private double InitialPredictor(int pattern, ReadOnlySpan<double> parameters)
    {
        var own = _data.CovariatesOf(pattern);
        double eta = parameters[0];
        for (int k = 0; k < own.Length; k++)
            eta += parameters[1 + k] * own[k];
        return eta;
    }

    private void FilterAfterRates(ReadOnlySpan<double> parameters, int site, Span<double> chances)
    {
        double present = 0;
        int season = 0;
        foreach (int piece in _pieces.Of(site))
        {
            // A piece that continues begins in the season of the detection that the one before ended with.
            int pattern = _pieces.Pattern[piece], start = _pieces.Start[piece], steps = _pieces.StepStart[pattern + 1] - _pieces.StepStart[pattern];
            if (steps == 0)
                break;
            Forward(pattern, start, parameters);
            _filtered.AsSpan(0, steps).CopyTo(chances[start..]);
            season = start + steps;
            present = _filtered[steps - 1];
        }
        if (season == 0)
            present = chances[season++] = InitialOf(_pieces.Pattern[_pieces.Of(site)[0]], parameters).Occupied;
        for (int t = season; t < _data.Seasons; t++)
            chances[t] = present = present * _remain[t - 1] + (1 - present) * _colonise[t - 1];
    }

    private void SetRates(ReadOnlySpan<double> parameters)
    {
        if (parameters.Length != Layout.Count) throw new ArgumentException("One value a parameter.", nameof(parameters));
        (_psi, _notPsi) = (Logistic.Of(parameters[0]), Logistic.Of(-parameters[0]));
        for (int t = 0; t + 1 < _data.Seasons; t++)
        {
            double g = parameters[Layout.FirstColonisation + _groups.Colonisation[t]];
            double e = parameters[Layout.FirstExtinction + _groups.Extinction[t]];
            (_colonise[t], _stay[t], _vanish[t], _remain[t]) = (Logistic.Of(g), Logistic.Of(-g), Logistic.Of(e), Logistic.Of(-e));
        }

        // The linear predictor first, then its logistic and logarithms four rows at a time.
        for (int r = 0; r < _data.RowSlots.Length; r++)
            _p[r] = DetectionPredictor(r, parameters);
        var one = Vector256<double>.One;
        for (int r = 0; r < _p.Length; r += 4)
        {
            var eta = Vector256.LoadUnsafe(ref _p[0], (nuint)r);
            var size = Vector256.Abs(eta);
            var small = FourWide.Exp(-size);
            var near = one / (one + small);
            var far = small * near;
            var positive = Vector256.GreaterThan(eta, Vector256<double>.Zero);
            Vector256.ConditionalSelect(positive, near, far).StoreUnsafe(ref _p[0], (nuint)r);
            Vector256.ConditionalSelect(positive, far, near).StoreUnsafe(ref _q[0], (nuint)r);
            var common = FourWide.LogOnePlus(small);
            var other = common + size;
            (-Vector256.ConditionalSelect(positive, common, other)).StoreUnsafe(ref _logP[0], (nuint)r);
            (-Vector256.ConditionalSelect(positive, other, common)).StoreUnsafe(ref _logQ[0], (nuint)r);
        }
    }

    /// <summary>What the visits of seasons with a detection say about p: their state is known.</summary>
    private double KnownValue()
    {
        double value = 0;
        for (int r = 0; r < _data.RowSlots.Length; r++)
        {
            // Rows without such visits may have p of 0 or 1, and 0 × ∞ is no number.
            if (_data.RowDetections[r] > 0)
                value += _data.RowDetections[r] * _logP[r];
            if (_data.RowKnownMisses[r] > 0)
                value += _data.RowKnownMisses[r] * _logQ[r];
        }
        return value;
    }

    private (double Empty, double Occupied) InitialOf(int pattern, ReadOnlySpan<double> parameters)
    {
        if (_pieces.Continues[pattern])
            return (0, 1);
        if (_data.SiteCovariates == 0)
            return (_notPsi, _psi);
        double eta = InitialPredictor(pattern, parameters);
        return (Logistic.Of(-eta), Logistic.Of(eta));
    }

    /// <summary>
    /// The forward recursion of one pattern: fills in the filtered chance of each of its seasons, and the chance of having
    /// been occupied given the state one season later. Returns the log-likelihood without the known visits' part.
    /// </summary>
    private double Forward(int pattern, int season, ReadOnlySpan<double> parameters)
    {
        int first = _pieces.StepStart[pattern], steps = _pieces.StepStart[pattern + 1] - first;
        var (empty, occupied) = InitialOf(pattern, parameters);
        double value = 0, scale = 1;
        for (int t = 0; t < steps; t++)
        {
            double sum = 1;
            switch (_pieces.Kinds[first + t])
            {
                case StepKind.Detected:
                    (sum, empty, occupied) = (occupied, 0, 1);
                    break;
                case StepKind.Silent:
                    double missed = 1;
                    for (int v = _pieces.VisitStart[first + t]; v < _pieces.VisitStart[first + t + 1]; v++)
                        missed *= _q[_pieces.VisitRows[v]];
                    _missed[t] = missed;
                    occupied *= missed;
                    sum = empty + occupied;
                    empty /= sum;
                    occupied /= sum;
                    break;
            }
            scale *= sum;
            // One logarithm for many seasons, taken before the product runs out of a double's range.
            if (scale < 1e-200)
            {
                value += Math.Log(scale);
                scale = 1;
            }
            _filtered[t] = occupied;
            if (t + 1 == steps)
                break;
            int now = season + t;
            double stayed = occupied * _remain[now], came = empty * _colonise[now], left = occupied * _vanish[now], nothing = empty * _stay[now];
            (empty, occupied) = (left + nothing, stayed + came);
            _fromEmpty[t] = empty > 0 ? left / empty : 0;
            _fromOccupied[t] = occupied > 0 ? stayed / occupied : 0;
        }
        return value + Math.Log(scale);
    }
}
