namespace Indicators.Statistics.Groups;

/// <summary>
/// One common course g_t of several series x_kt, by least squares of x_kt = a_k + g_t over the cells that are present.
/// </summary>
/// <remarks>
/// On log indices this is the geometric mean over species when none is missing (Buckland et al. 2005, 2011), and neither
/// jumps nor drifts when series come late. The level is fixed by the anchor series: their a_k add up to zero, so that g
/// stays on their scale. Periods that no chain of series links to the anchors have no value.
/// One object a thread; nothing is allocated between calls.
/// </remarks>
public sealed class AdditiveIndex
{
    private readonly int _series, _periods, _stride;
    private readonly double[] _matrix, _g, _means, _counts;
    private readonly bool[] _linkedPeriod, _linkedSeries, _present, _anchors;
    private bool _prepared, _solvable;
    private int _pinned;

    /// <summary>A workspace.</summary>
    public AdditiveIndex(int series, int periods)
    {
        (_series, _periods) = (series, periods);
        _stride = (periods + 3) / 4 * 4 + 4;
        _matrix = new double[_stride * _stride];
        _g = new double[_stride];
        _means = new double[series];
        _counts = new double[series];
        _linkedPeriod = new bool[periods];
        _linkedSeries = new bool[series];
        _present = new bool[series * periods];
        _anchors = new bool[series];
    }

    /// <summary>Fits one table.</summary>
    /// <param name="values">x_kt, series after series; NaN where absent.</param>
    /// <param name="anchors">Which series fix the level, true or false each; an anchor without values is passed over.</param>
    /// <param name="course">g_t, one a period; NaN where there is none.</param>
    public void Fit(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors, Span<double> course)
    {
        course.Fill(double.NaN);
        // Tables that follow each other mostly lack the same cells: the equations are then the ones already factored.
        if (!IsPrepared(values, anchors))
            Prepare(values, anchors);
        if (!_solvable)
            return;

        Array.Clear(_g);
        for (int k = 0; k < _series; k++)
        {
            if (!_linkedSeries[k])
                continue;
            var row = values.Slice(k * _periods, _periods);
            double sum = 0;
            foreach (double x in row)
                sum += double.IsNaN(x) ? 0 : x;
            double mean = _means[k] = sum / _counts[k];
            for (int t = 0; t < row.Length; t++)
                _g[t] += double.IsNaN(row[t]) ? 0 : row[t] - mean;
        }
        _g[_pinned] = 0;
        Fits.SymmetricSolve.Solve(_matrix, _stride, _periods, _g);

        // With g pinned somewhere, move it so that the anchors' effects add up to zero.
        double shift = 0;
        int count = 0;
        for (int k = 0; k < _series; k++)
        {
            if (!_linkedSeries[k] || !_anchors[k])
                continue;
            double sum = 0;
            for (int t = 0; t < _periods; t++)
                sum += _present[k * _periods + t] ? _g[t] : 0;
            shift += _means[k] - sum / _counts[k];
            count++;
        }
        shift /= count;
        for (int t = 0; t < _periods; t++)
            if (_linkedPeriod[t]) course[t] = _g[t] + shift;
    }

    private bool IsPrepared(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors)
    {
        if (!_prepared || !anchors.SequenceEqual(_anchors))
            return false;
        for (int i = 0; i < _present.Length; i++)
            if (double.IsNaN(values[i]) == _present[i]) return false;
        return true;
    }

    /// <summary>Links what can be linked and factors the equations of g, which depend only on the cells that are present.</summary>
    private void Prepare(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors)
    {
        _prepared = true;
        anchors.CopyTo(_anchors);
        for (int i = 0; i < _present.Length; i++)
            _present[i] = !double.IsNaN(values[i]);
        _solvable = Link(values, anchors);
        if (!_solvable)
            return;

        Array.Clear(_matrix);
        _pinned = Array.LastIndexOf(_linkedPeriod, true);
        for (int k = 0; k < _series; k++)
        {
            if (!_linkedSeries[k])
                continue;
            var here = _present.AsSpan(k * _periods, _periods);
            _counts[k] = here.Count(true);
            for (int t = 0; t < _periods; t++)
            {
                if (!here[t] || t == _pinned)
                    continue;
                _matrix[t * _stride + t] += 1;
                for (int u = t; u < _periods; u++)
                    if (here[u] && u != _pinned) _matrix[t * _stride + u] -= 1 / _counts[k];
            }
        }
        for (int t = 0; t < _periods; t++)
            if (!_linkedPeriod[t] || t == _pinned) _matrix[t * _stride + t] = 1;
        _solvable = Fits.SymmetricSolve.Factor(_matrix, _stride, _periods);
    }

    /// <summary>Spreads from the first anchor with a value over series and periods; false when no anchor has a value.</summary>
    private bool Link(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors)
    {
        Array.Clear(_linkedPeriod);
        Array.Clear(_linkedSeries);
        bool started = false;
        for (bool grew = true; grew;)
        {
            grew = false;
            for (int k = 0; k < _series; k++)
            {
                if (_linkedSeries[k])
                    continue;
                bool present = false, touches = false;
                for (int t = 0; t < _periods; t++)
                {
                    if (double.IsNaN(values[k * _periods + t]))
                        continue;
                    present = true;
                    touches |= _linkedPeriod[t];
                }
                if (!present || !(touches || (!started && anchors[k])))
                    continue;
                (started, grew, _linkedSeries[k]) = (true, true, true);
                for (int t = 0; t < _periods; t++)
                    _linkedPeriod[t] |= !double.IsNaN(values[k * _periods + t]);
            }
        }
        return started;
    }

    /// <summary>
    /// How much of g_t each series accounts for: g is linear in the values, so the parts add up to it without a remainder.
    /// </summary>
    /// <param name="values">The table.</param>
    /// <param name="anchors">The anchors.</param>
    /// <returns>One course a series; NaN where g has none.</returns>
    public double[][] Contributions(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors)
    {
        var parts = new double[_series][];
        var only = new double[values.Length];
        for (int k = 0; k < _series; k++)
        {
            for (int i = 0; i < only.Length; i++)
                only[i] = double.IsNaN(values[i]) ? double.NaN : i / _periods == k ? values[i] : 0;
            parts[k] = new double[_periods];
            Fit(only, anchors, parts[k]);
        }
        return parts;
    }
}

/// <summary>The logarithmic mean, which turns a sum of logs into a sum of differences exactly.</summary>
public static class LogarithmicMean
{
    /// <summary>(a − b) / (ln a − ln b), or a when both are equal; both positive (Ang 2004, logarithmic-mean Divisia).</summary>
    public static double Of(double a, double b)
    {
        double log = Math.Log(a / b);
        return Math.Abs(log) < 1e-12 ? (a + b) / 2 : (a - b) / log;
    }
}
