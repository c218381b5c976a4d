using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Occupancy;

/// <summary>How a parameter stands during a search.</summary>
internal enum Hold : byte
{
    /// <summary>Searched over.</summary>
    Free,

    /// <summary>Held at −∞: its probability is 0.</summary>
    AtZero,

    /// <summary>Held at +∞: its probability is 1.</summary>
    AtOne,

    /// <summary>Held where the caller put it.</summary>
    Given,

    /// <summary>The data do not touch it.</summary>
    Untouched,
}

/// <summary>
/// Searches the maximum of an occupancy likelihood from one start: Newton's method on the exact information, damped by the
/// complete information where the observed one is not positive definite or a step would lose.
/// </summary>
/// <remarks>
/// With full damping a step is a fraction of the EM algorithm's gradient step (Lange 1995, "A gradient algorithm locally
/// equivalent to the EM algorithm"), which climbs. A probability whose logit runs away is put at 0 or 1 exactly when that
/// does not lose, and let go again when the likelihood is higher just inside.
/// </remarks>
internal sealed class OccupancyMaximum
{
    private const int MaximumIterations = 150;

    /// <summary>Logits beyond this are tried at infinity: a probability of 0.0003.</summary>
    private const double Far = 8;

    /// <summary>The longest step of any parameter.</summary>
    private const double LongestStep = 3;

    /// <summary>Steps shorter than this from a positive definite information are taken unseen: the likelihood is too flat there to compare.</summary>
    private const double Near = 1e-4;

    /// <summary>A linear predictor of this size at some site or visit means that an effect has run away: a probability of 2e-9.</summary>
    private const double Runaway = 20;

    /// <summary>How much more likely, relative to its size, a value must be to count as more.</summary>
    private const double Flat = 1e-13;

    /// <summary>
    /// A step whose expected gain, relative to the value, is below this has reached rounding: it is a hundred-millionth of a
    /// standard error, however long it is where the data say little.
    /// </summary>
    private const double Rounding = 1e-16;

    private readonly OccupancyLikelihood _likelihood;
    private readonly double[] _matrix, _scale, _step, _trial;
    private readonly bool[] _released;
    private readonly int _stride;

    public OccupancyMaximum(OccupancyLikelihood likelihood)
    {
        _likelihood = likelihood;
        int count = likelihood.Layout.Count;
        _stride = (count + 3) / 4 * 4;
        (Point, Holds, _released) = (new double[count], new Hold[count], new bool[count]);
        (_matrix, _scale, _step, _trial) = (new double[_stride * _stride], new double[count], new double[_stride], new double[count]);
    }

    public DetectionHistories Data => _likelihood.Data;

    public double[] Point { get; }

    public Hold[] Holds { get; }

    public double Value { get; private set; }

    public int Iterations { get; private set; }

    /// <summary>Whether the last climb was given up because an effect ran off to infinity.</summary>
    public bool RanAway { get; private set; }

    /// <summary>Climbs until no free parameter moves by more than the tolerance, or the gain is rounding; false when it does not settle.</summary>
    public bool Climb(double tolerance)
    {
        Array.Clear(_released);
        RanAway = false;
        Value = _likelihood.Derivatives(Point);
        double damping = 0;
        for (int i = 0; i < MaximumIterations && double.IsFinite(Value); i++)
        {
            Iterations++;
            var (longest, gain, value) = Step(ref damping);
            if (double.IsNaN(longest))
                return false;
            _trial.CopyTo(Point, 0);
            bool settled = longest <= tolerance || (longest <= LongestStep && damping == 0 && gain <= Rounding * (1 + Math.Abs(Value)));
            // The step was tried with its derivatives, which stand unless something is put at 0 or 1.
            Value = HoldRunaways() ? _likelihood.Derivatives(Point) : value;
            RanAway = _likelihood.LargestWithEffects(Point) > Runaway;
            if (RanAway)
                return false;
            if (settled && !Release())
                return true;
        }
        return false;
    }

    /// <summary>
    /// Finds a step that gains and leaves the derivatives at its end: its longest component (NaN when there is none), the gain
    /// its gradient promises, and the value at its end.
    /// </summary>
    private (double Longest, double Gain, double Value) Step(ref double damping)
    {
        for (int attempt = 0; attempt < 40; attempt++)
        {
            if (!Solve(damping))
            {
                // As little as makes it positive definite: along a ridge much damping means slow steps.
                damping = Math.Max(10 * damping, 1e-6);
                continue;
            }
            double longest = 0;
            for (int j = 0; j < Point.Length; j++)
                longest = Math.Max(longest, Math.Abs(_step[j]));
            double factor = Math.Min(1, LongestStep / longest), gain = 0;
            for (int j = 0; j < Point.Length; j++)
            {
                _trial[j] = Point[j] + (_step[j] *= factor);
                gain += _step[j] * _likelihood.Gradient[j];
            }
            double value = _likelihood.Derivatives(_trial);
            if (longest <= Near || value >= Value - Flat * Math.Abs(Value))
            {
                damping = damping < 5e-6 ? 0 : damping / 10;
                return (longest, gain, value);
            }
            damping = Math.Max(10 * damping, 0.01);
            _likelihood.Derivatives(Point);
        }
        return (double.NaN, 0, 0);
    }

    /// <summary>Solves (information + damping × complete) step = gradient over the free parameters, scaled to a complete diagonal of 1.</summary>
    private bool Solve(double damping)
    {
        int count = Point.Length;
        for (int i = 0; i < count; i++)
            _scale[i] = Holds[i] == Hold.Free && _likelihood.Complete(i, i) > 0 ? 1 / Math.Sqrt(_likelihood.Complete(i, i)) : 0;
        Array.Clear(_step);
        for (int i = 0; i < count; i++)
        {
            for (int j = i; j < count; j++)
                _matrix[i * _stride + j] = _scale[i] * _scale[j] * (_likelihood.Information(i, j) + damping * _likelihood.Complete(i, j));
            if (_scale[i] == 0)
                _matrix[i * _stride + i] = 1;
            _step[i] = _scale[i] * _likelihood.Gradient[i];
        }
        if (!SymmetricSolve.Factor(_matrix, _stride, count))
            return false;
        SymmetricSolve.Solve(_matrix, _stride, count, _step);
        for (int i = 0; i < count; i++)
            _step[i] *= _scale[i];
        return true;
    }

    /// <summary>Puts at 0 or 1 what runs there and does not lose by it; whether anything was.</summary>
    private bool HoldRunaways()
    {
        bool any = false;
        for (int j = 0; j < Point.Length; j++)
        {
            double far = _released[j] ? 2.5 * Far : Far;
            if (Holds[j] != Hold.Free || !_likelihood.Layout.DecidesProbability(j) || Math.Abs(Point[j]) < far || Point[j] * _step[j] < 0)
                continue;
            double before = Point[j], value = _likelihood.Value(Point);
            Point[j] = before > 0 ? double.PositiveInfinity : double.NegativeInfinity;
            any = true;
            if (_likelihood.Value(Point) >= value)
                Holds[j] = before > 0 ? Hold.AtOne : Hold.AtZero;
            else
                Point[j] = before;
        }
        return any;
    }

    /// <summary>Lets go of a probability held at 0 or 1 that would rather be inside; each at most once in a climb.</summary>
    private bool Release()
    {
        bool any = false;
        for (int j = 0; j < Point.Length; j++)
        {
            if (Holds[j] is not (Hold.AtZero or Hold.AtOne) || _released[j])
                continue;
            double held = Point[j];
            foreach (double size in (ReadOnlySpan<double>)[0.75 * Far, 1.25 * Far])
            {
                Point[j] = Math.CopySign(size, held);
                if (_likelihood.Value(Point) > Value + Flat * Math.Abs(Value))
                {
                    (Holds[j], _released[j], any) = (Hold.Free, true, true);
                    break;
                }
                Point[j] = held;
            }
        }
        if (any)
            Value = _likelihood.Derivatives(Point);
        return any;
    }
}
