using System.Buffers;
using Indicators.Analysis.Options;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Fits;

/// <summary>Draws of one quantity, stretched about its estimate; lost resamples left out. Their room is lent, for there are many of them.</summary>
internal sealed class Draws : IDisposable
{
    private readonly double[] _room;
    private bool _sorted;

    private Draws(double[] room, int count, int resamples) => (_room, Count, LostShare) = (room, count, resamples == 0 ? 0 : 1 - (double)count / resamples);

    /// <summary>Share of resamples that gave nothing.</summary>
    public double LostShare { get; }

    /// <summary>How many draws there are.</summary>
    public int Count { get; }

    /// <summary>Their mean and variance.</summary>
    public DrawMoments Moments => DrawMoments.Of(Values);

    /// <summary>The draws, ascending.</summary>
    public ReadOnlySpan<double> Sorted
    {
        get
        {
            if (!_sorted)
                Values.Sort();
            _sorted = true;
            return Values;
        }
    }

    private Span<double> Values => _room.AsSpan(0, Count);

    /// <summary>Stretches every <paramref name="stride"/>-th value from an offset; NaN is lost.</summary>
    public static Draws Stretched(ReadOnlySpan<double> values, int offset, int stride, double estimate, double factor)
    {
        int resamples = values.Length / stride, kept = 0;
        double[] draws = ArrayPool<double>.Shared.Rent(resamples);
        for (int b = 0; b < resamples; b++)
        {
            double value = values[b * stride + offset];
            if (!double.IsNaN(value))
                draws[kept++] = BootstrapInterval.Stretched(estimate, value, factor);
        }
        return new Draws(draws, kept, resamples);
    }

    /// <summary>Whether so many resamples were lost that no interval stands.</summary>
    public bool TooManyLost(TrendOptions options) => Count == 0 || LostShare > options.MaximumLostShare;

    /// <summary>The equal-tailed interval.</summary>
    public Interval Percentile(double confidence) =>
        _sorted ? BootstrapInterval.Percentile(Values, confidence) : BootstrapInterval.PercentileInPlace(Values, confidence);

    /// <summary>Share of the draws below a value.</summary>
    public double ShareBelow(double value)
    {
        int below = 0;
        foreach (double draw in Values)
            below += draw < value ? 1 : 0;
        return (double)below / Count;
    }

    /// <summary>Gives the room back; nothing may be asked afterwards.</summary>
    public void Dispose() => ArrayPool<double>.Shared.Return(_room);
}
