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
    private readonly double[] _matrix, _g, _means;
    private readonly bool[] _linkedPeriod, _linkedSeries;

    /// <summary>A workspace.</summary>
    public AdditiveIndex(int series, int periods)
    {
        (_series, _periods) = (series, periods);
        _stride = (periods + 3) / 4 * 4 + 4;
        _matrix = new double[_stride * _stride];
        _g = new double[_stride];
        _means = new double[series];
        _linkedPeriod = new bool[periods];
        _linkedSeries = new bool[series];
    }

    /// <summary>Fits one table.</summary>
    /// <param name="values">x_kt, series after series; NaN where absent.</param>
    /// <param name="anchors">Which series fix the level, true or false each; an anchor without values is passed over.</param>
    /// <param name="course">g_t, one a period; NaN where there is none.</param>
    public void Fit(ReadOnlySpan<double> values, ReadOnlySpan<bool> anchors, Span<double> course)
    {
        course.Fill(double.NaN);
        if (!Link(values, anchors))
            return;

        Array.Clear(_matrix);
        Array.Clear(_g);
        int pinned = Array.LastIndexOf(_linkedPeriod, true);
        for (int k = 0; k < _series; k++)
        {
            if (!_linkedSeries[k])
                continue;
            var row = values.Slice(k * _periods, _periods);
            int n = 0;
            double mean = 0;
            for (int t = 0; t < _periods; t++)
                if (!double.IsNaN(row[t])) (n, mean) = (n + 1, mean + row[t]);
            _means[k] = mean /= n;
            for (int t = 0; t < _periods; t++)
            {
                if (double.IsNaN(row[t]) || t == pinned)
                    continue;
                _g[t] += row[t] - mean;
                _matrix[t * _stride + t] += 1;
                for (int u = t; u < _periods; u++)
                    if (!double.IsNaN(row[u]) && u != pinned) _matrix[t * _stride + u] -= 1.0 / n;
            }
        }
        for (int t = 0; t < _periods; t++)
            if (!_linkedPeriod[t] || t == pinned) _matrix[t * _stride + t] = 1;
        if (!Fits.SymmetricSolve.Factor(_matrix, _stride, _periods))
            return;
        Fits.SymmetricSolve.Solve(_matrix, _stride, _periods, _g);

        // With g pinned somewhere, move it so that the anchors' effects add up to zero.
        double shift = 0;
        int count = 0;
        for (int k = 0; k < _series; k++)
        {
            if (!_linkedSeries[k] || !anchors[k])
                continue;
            var row = values.Slice(k * _periods, _periods);
            double mean = 0;
            int n = 0;
            for (int t = 0; t < _periods; t++)
                if (!double.IsNaN(row[t])) (n, mean) = (n + 1, mean + _g[t]);
            shift += _means[k] - mean / n;
            count++;
        }
        shift /= count;
        for (int t = 0; t < _periods; t++)
            if (_linkedPeriod[t]) course[t] = _g[t] + shift;
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
