using Indicators.Analysis.Options;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>Draws of one quantity, stretched about its estimate; lost resamples left out.</summary>
internal sealed class Draws
{
    private readonly double[] _values;
    private bool _sorted;

    private Draws(double[] values, int resamples) => (_values, LostShare) = (values, resamples == 0 ? 0 : 1 - (double)values.Length / resamples);

    /// <summary>Share of resamples that gave nothing.</summary>
    public double LostShare { get; }

    /// <summary>How many draws there are.</summary>
    public int Count => _values.Length;

    /// <summary>Their mean and variance.</summary>
    public DrawMoments Moments => DrawMoments.Of(_values);

    /// <summary>The draws, ascending.</summary>
    public ReadOnlySpan<double> Sorted
    {
        get
        {
            if (!_sorted)
                Array.Sort(_values);
            _sorted = true;
            return _values;
        }
    }

    /// <summary>Stretches every <paramref name="stride"/>-th value from an offset; NaN is lost.</summary>
    public static Draws Stretched(ReadOnlySpan<double> values, int offset, int stride, double estimate, double factor)
    {
        int resamples = values.Length / stride, kept = 0;
        var draws = new double[resamples];
        for (int b = 0; b < resamples; b++)
        {
            double value = values[b * stride + offset];
            if (!double.IsNaN(value))
                draws[kept++] = BootstrapInterval.Stretched(estimate, value, factor);
        }
        Array.Resize(ref draws, kept);
        return new Draws(draws, resamples);
    }

    /// <summary>Whether so many resamples were lost that no interval stands.</summary>
    public bool TooManyLost(TrendOptions options) => Count == 0 || LostShare > options.MaximumLostShare;

    /// <summary>The equal-tailed interval.</summary>
    public Interval Percentile(double confidence) =>
        _sorted ? BootstrapInterval.Percentile(_values, confidence) : BootstrapInterval.PercentileInPlace(_values, confidence);

    /// <summary>Share of the draws below a value.</summary>
    public double ShareBelow(double value)
    {
        int below = 0;
        foreach (double draw in _values)
            below += draw < value ? 1 : 0;
        return (double)below / _values.Length;
    }
}
