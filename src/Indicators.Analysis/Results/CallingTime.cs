using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Results;

/// <summary>When one species is listened for in one area, and the days of the year on which it was heard there.</summary>
/// <remarks>
/// Days heard are those of surveys in the calling window, over all seasons. A protected species has none: a day may be
/// that of a single survey, and the surveys' own table tells where each was.
/// </remarks>
public sealed record CallingTime
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>The calling window; where windows differ inside the area, from the earliest first day to the latest last one.</summary>
    public required CallingWindow Window { get; init; }

    /// <summary>The earliest day of the year it was ever heard; null when never heard, or protected.</summary>
    public AnnualDate? FirstHeard { get; init; }

    /// <summary>The middle one of all days heard, one a survey; the earlier of two. Null when never heard, or protected.</summary>
    public AnnualDate? MedianHeard { get; init; }

    /// <summary>The latest day; null when never heard, or protected.</summary>
    public AnnualDate? LastHeard { get; init; }

    /// <summary>Surveys that heard it, 0 upward; null for a protected species.</summary>
    public int? SurveysHeard { get; init; }
}
