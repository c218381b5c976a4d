using System.Runtime.Intrinsics;
using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Occupancy;

/// <content>Gradient and information.</content>
public sealed partial class OccupancyLikelihood
{
    /// <summary>Works out the gradient and the information, and returns the log-likelihood.</summary>
    /// <param name="parameters">One value a parameter, on the logit scale, in the order of <see cref="Layout"/>.</param>
    public double Derivatives(ReadOnlySpan<double> parameters)
    {
        SetRates(parameters);
        Array.Clear(_gradient);
        Array.Clear(_complete);
        Array.Clear(_missing);
        Array.Clear(_silentWeight);
        double value = KnownValue();
        for (int i = 0; i < _weights.Length; i++)
        {
            int pattern = PatternOf(i), start = StartOf(i), steps = _pieces.StepStart[pattern + 1] - _pieces.StepStart[pattern];
            double weight = _weights[i];
            if (weight == 0 || steps == 0)
                continue;
            value += weight * Forward(pattern, start, parameters);
            var (empty, occupied) = InitialOf(pattern, parameters);
            Smooth(pattern, start, weight, steps);
            if (!_pieces.Continues[pattern])
                AddInitial(pattern, weight, empty, occupied);
            AddMissing(pattern, start, weight, steps, occupied);
        }
        AddOuters();
        AddDetection();
        return double.IsNaN(value) ? double.NegativeInfinity : value;
    }

    /// <summary>Runs the chain backwards, and adds the transitions' expected scores and complete information.</summary>
    private void Smooth(int pattern, int season, double weight, int steps)
    {
        int first = _pieces.StepStart[pattern];
        double after = _smoothed[steps - 1] = _filtered[steps - 1];
        AddSilent(first + steps - 1, weight * after);
        for (int t = steps - 2; t >= 0; t--)
        {
            double stayed = after * _fromOccupied[t], left = (1 - after) * _fromEmpty[t];
            double came = after - stayed, now = stayed + left, empty = 1 - now;
            int interval = season + t, g = Layout.FirstColonisation + _groups.Colonisation[interval], e = Layout.FirstExtinction + _groups.Extinction[interval];
            _gradient[g] += weight * (came - _colonise[interval] * empty);
            _gradient[e] += weight * (left - _vanish[interval] * now);
            _complete[g * _stride + g] += weight * empty * _colonise[interval] * _stay[interval];
            _complete[e * _stride + e] += weight * now * _vanish[interval] * _remain[interval];
            _smoothed[t] = after = now;
            AddSilent(first + t, weight * now);
        }
    }

    private void AddSilent(int step, double weight)
    {
        for (int v = _pieces.VisitStart[step]; v < _pieces.VisitStart[step + 1]; v++)
            _silentWeight[_pieces.VisitRows[v]] += weight;
    }

    private void AddInitial(int pattern, double weight, double empty, double occupied)
    {
        var own = _data.CovariatesOf(pattern);
        int count = own.Length;
        double score = weight * (_smoothed[0] - occupied), information = weight * occupied * empty;
        _gradient[0] += score;
        _complete[0] += information;
        for (int k = 0; k < count; k++)
        {
            double x = own[k];
            _gradient[1 + k] += score * x;
            _complete[1 + k] += information * x;
            for (int l = k; l < count; l++)
                _complete[(1 + k) * _stride + 1 + l] += information * x * own[l];
        }
    }

    /// <summary>Score and complete information of detection: every row is a logistic regression weighted by the chance of presence.</summary>
    private void AddDetection()
    {
        int q = _data.VisitCovariates, effects = Layout.FirstDetectionEffect;
        for (int r = 0; r < _data.RowSlots.Length; r++)
        {
            double total = _data.RowDetections[r] + _data.RowKnownMisses[r] + _silentWeight[r];
            double score = _data.RowDetections[r] - total * _p[r], information = total * _p[r] * _q[r];
            int slot = Layout.FirstDetection + _data.RowSlots[r];
            _gradient[slot] += score;
            _complete[slot * _stride + slot] += information;
            for (int k = 0; k < q; k++)
            {
                double x = _data.RowCovariates[r * q + k];
                _gradient[effects + k] += score * x;
                _complete[slot * _stride + effects + k] += information * x;
                for (int l = k; l < q; l++)
                    _complete[(effects + k) * _stride + effects + l] += information * x * _data.RowCovariates[r * q + l];
            }
        }
    }

    /// <summary>
    /// The variance of the complete score given the data. Past(z) is the expected score of all that lies before, given that
    /// the state now is z; the chance of the state now given the next one is what <see cref="Forward"/> left behind.
    /// </summary>
    private void AddMissing(int pattern, int season, double weight, int steps, double occupied)
    {
        int first = _pieces.StepStart[pattern];
        Array.Clear(_past0);
        Array.Clear(_past1);
        if (!_pieces.Continues[pattern])
        {
            var own = _data.CovariatesOf(pattern);
            (_past0[0], _past1[0]) = (-occupied, 1 - occupied);
            for (int k = 0; k < own.Length; k++)
                (_past0[1 + k], _past1[1 + k]) = (-occupied * own[k], (1 - occupied) * own[k]);
        }
        for (int t = 0; t < steps; t++)
        {
            AddSilentScore(first + t, _past1);
            if (t == steps - 1)
            {
                Subtract(_past1, _past0, _difference);
                AddOuter(weight * _smoothed[t] * (1 - _smoothed[t]));
                break;
            }
            int interval = season + t, g = Layout.FirstColonisation + _groups.Colonisation[interval], e = Layout.FirstExtinction + _groups.Extinction[interval];
            Step(0, _fromEmpty[t], 1 - _smoothed[t + 1], _next0);
            Step(1, _fromOccupied[t], _smoothed[t + 1], _next1);
            (_past0, _past1, _next0, _next1) = (_next0, _next1, _past0, _past1);

            void Step(int after, double chance, double afterChance, double[] next)
            {
                Subtract(_past1, _past0, _difference);
                _difference[e] += 1 - after - _vanish[interval];
                _difference[g] -= after - _colonise[interval];
                AddOuter(weight * afterChance * chance * (1 - chance));
                Mix(_past0, chance, _difference, next);
                next[g] += after - _colonise[interval];
            }
        }
    }

    /// <summary>Adds the score of silent visits to an occupied site: −p for the intercept, −p x for the effects.</summary>
    private void AddSilentScore(int step, double[] score)
    {
        int q = _data.VisitCovariates;
        for (int v = _pieces.VisitStart[step]; v < _pieces.VisitStart[step + 1]; v++)
        {
            int r = _pieces.VisitRows[v];
            double p = _p[r];
            score[Layout.FirstDetection + _data.RowSlots[r]] -= p;
            for (int k = 0; k < q; k++)
                score[Layout.FirstDetectionEffect + k] -= p * _data.RowCovariates[r * q + k];
        }
    }

    private static void Subtract(double[] a, double[] b, double[] result)
    {
        for (int i = 0; i < result.Length; i += 4)
            (Vector256.LoadUnsafe(ref a[0], (nuint)i) - Vector256.LoadUnsafe(ref b[0], (nuint)i)).StoreUnsafe(ref result[0], (nuint)i);
    }

    private static void Mix(double[] start, double factor, double[] difference, double[] result)
    {
        var f = Vector256.Create(factor);
        for (int i = 0; i < result.Length; i += 4)
            Vector256.FusedMultiplyAdd(f, Vector256.LoadUnsafe(ref difference[0], (nuint)i), Vector256.LoadUnsafe(ref start[0], (nuint)i))
                .StoreUnsafe(ref result[0], (nuint)i);
    }

    /// <summary>Adds weight × d dᵀ, put by until there are enough of them to add at once.</summary>
    private void AddOuter(double weight)
    {
        if (weight <= 0)
            return;
        var root = Vector256.Create(Math.Sqrt(weight));
        nuint row = (nuint)(_outerCount * _stride);
        for (int i = 0; i < _difference.Length; i += 4)
            (root * Vector256.LoadUnsafe(ref _difference[0], (nuint)i)).StoreUnsafe(ref _outers[0], row + (nuint)i);
        if (++_outerCount == CrossProducts.Block)
            AddOuters();
    }

    private void AddOuters()
    {
        CrossProducts.Add(_outers, _outerCount, _stride, _gradient.Length, _missing);
        _outerCount = 0;
    }
}
