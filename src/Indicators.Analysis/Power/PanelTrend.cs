using Indicators.Analysis.Results;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Intervals;
using Indicators.Statistics.Panels;

namespace Indicators.Analysis.Power;

/// <summary>The engine's trend of one panel, with its two intervals; all slopes natural log, per season.</summary>
public sealed record PanelTrend
{
    /// <summary>The panel.</summary>
    public required PanelCounts Panel { get; init; }

    /// <summary>Its slope.</summary>
    public required Slope Slope { get; init; }

    /// <summary>K: clusters with counts and exposure in two seasons or more.</summary>
    public required int Clusters { get; init; }

    /// <summary>The interval of observed change; null where none is given.</summary>
    public Interval? Observed { get; init; }

    /// <summary>The interval of the underlying direction; null where none is given.</summary>
    public Interval? Underlying { get; init; }

    /// <summary>Which way it goes, by the interval of the underlying direction.</summary>
    public Direction Direction { get; init; }

    /// <summary>Standard deviation of shared season shocks, log scale, 0 upward; NaN without draws.</summary>
    public double SeasonSd { get; init; } = double.NaN;

    /// <summary>
    /// Variance of the slope between resampled clusters, and of what drawn season shocks add to it, before the stretch by
    /// Student's t; NaN without draws.
    /// </summary>
    public (double Clusters, double Shocks) Variances { get; init; } = (double.NaN, double.NaN);

    /// <summary>The slope of each resample, unstretched; NaN where lost, possibly infinite; empty where no interval is promised.</summary>
    public IReadOnlyList<double> SlopeDraws { get; init; } = [];
}
