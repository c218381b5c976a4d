using Indicators.Analysis.Options;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>Draws of one quantity, stretched about its estimate, in ascending order; lost resamples left out.</summary>
internal readonly struct Draws
{
    private readonly double[] _sorted;

    private Draws(double[] sorted, int resamples) => (_sorted, LostShare) = (sorted, resamples == 0 ? 0 : 1 - (double)sorted.Length / resamples);

    /// <summary>Share of resamples that gave nothing.</summary>
    public double LostShare { get; }

    /// <summary>How many draws there are.</summary>
    public int Count => _sorted.Length;

    /// <summary>The draws, ascending.</summary>
    public ReadOnlySpan<double> Sorted => _sorted;

    /// <summary>Stretches and sorts every <paramref name="stride"/>-th value from an offset; NaN is lost.</summary>
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
        Array.Sort(draws);
        return new Draws(draws, resamples);
    }

    /// <summary>Whether so many resamples were lost that no interval stands.</summary>
    public bool TooManyLost(TrendOptions options) => Count == 0 || LostShare > options.MaximumLostShare;

    /// <summary>The equal-tailed interval.</summary>
    public Interval Percentile(double confidence) => BootstrapInterval.Percentile(_sorted, confidence);

    /// <summary>Share of the draws below a value.</summary>
    public double ShareBelow(double value)
    {
        int below = 0;
        foreach (double draw in _sorted)
            below += draw < value ? 1 : 0;
        return (double)below / _sorted.Length;
    }
}
