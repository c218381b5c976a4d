using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>Which way a smooth course bends in a season, where its interval leaves no doubt.</summary>
public enum SmoothBend
{
    /// <summary>No bend can be told.</summary>
    None,

    /// <summary>A fall slows down, or a rise quickens.</summary>
    Upward,

    /// <summary>A rise slows down, or a fall quickens.</summary>
    Downward,
}

/// <summary>One season of a species' smooth course in one area: expected calling relative to the baseline seasons' mean, 100.</summary>
public sealed record SmoothPoint
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The season.</summary>
    public required int Season { get; init; }

    /// <summary>100 e^f(t) / mean of e^f over the baseline seasons, greater than 0.</summary>
    public required double Value { get; init; }

    /// <summary>Lower end of its pointwise band; null when there is none.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? Upper { get; init; }

    /// <summary>Whether the course bends here beyond doubt: a turning point.</summary>
    public SmoothBend Bend { get; init; }

    /// <summary>The share of refits whose fastest fall lies nearest to this season, 0 to 1.</summary>
    public double FallShare { get; init; }

    /// <summary>The share of refits whose fastest rise lies nearest to this season, 0 to 1.</summary>
    public double RiseShare { get; init; }
}

/// <summary>Fastest fall or fastest rise.</summary>
public enum SmoothChangeKind
{
    /// <summary>Where the smooth course falls fastest.</summary>
    FastestFall,

    /// <summary>Where it rises fastest.</summary>
    FastestRise,
}

/// <summary>When a smooth course changes fastest in one direction, and how sure that is.</summary>
public sealed record SmoothChange
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>Fall or rise.</summary>
    public required SmoothChangeKind Kind { get; init; }

    /// <summary>When, in seasons and fractions; null when the course is a straight line on the log scale.</summary>
    public double? Season { get; init; }

    /// <summary>Lower end of the interval of that time, over the refits that bend; null without one.</summary>
    public double? SeasonLower { get; init; }

    /// <summary>Upper end of it.</summary>
    public double? SeasonUpper { get; init; }

    /// <summary>The change there in percent per season; a fastest fall above 0 means that it never falls.</summary>
    public required double PercentPerSeason { get; init; }

    /// <summary>Lower end of its interval.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper end of it.</summary>
    public required double Upper { get; init; }

    /// <summary>Effective degrees of freedom of the course: 1 for a straight line, seasons − 1 for a level of its own each season.</summary>
    public required double Freedom { get; init; }
}
