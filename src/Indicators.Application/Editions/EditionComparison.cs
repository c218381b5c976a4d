using Indicators.Analysis.Results;
using Indicators.Exchange.Settings;
using Indicators.Monitoring;
using Indicators.Storage.Editions;

namespace Indicators.Application.Editions;

/// <summary>Something of a run or an engine that differs, named as in the edition's record.</summary>
/// <param name="What">Its name: <c>seed</c>, <c>engine_version</c> and so on.</param>
/// <param name="Before">Before.</param>
/// <param name="After">After.</param>
public sealed record ManifestChange(string What, string Before, string After);

/// <summary>What one of several causes moved of a result.</summary>
/// <param name="Causes">The cause; more than one where they could not be told apart.</param>
/// <param name="Before">The result without it; null where there was none.</param>
/// <param name="After">The result with it.</param>
public sealed record CauseMove<T>(EditionCauses Causes, T? Before, T? After)
    where T : class;

/// <summary>An area's condition in either edition's last season of that area.</summary>
/// <param name="Area">The area.</param>
/// <param name="Before">In the earlier edition; null when it had none of the area.</param>
/// <param name="After">In the later edition.</param>
public sealed record ConditionMove(WatershedCode Area, Condition? Before, Condition? After)
{
    /// <summary>What each cause moved, in the order they were taken in; empty where that was not found out.</summary>
    public IReadOnlyList<CauseMove<Condition>> ByCause { get; init; } = [];

    /// <summary>How the area's surveys differ.</summary>
    public SurveyDifference Surveys { get; init; } = SurveyDifference.None;

    /// <summary>How far the score moved, in points; null without two scores.</summary>
    public double? Points => After?.Score - Before?.Score;

    /// <summary>Whether anything of the score moved: itself, an end of its range, or its class.</summary>
    public bool Moved => Before?.Class != After?.Class
        || EditionComparison.Differ(Before?.Score, After?.Score) || EditionComparison.Differ(Before?.Lower, After?.Lower) || EditionComparison.Differ(Before?.Upper, After?.Upper);
}

/// <summary>A trend in either edition.</summary>
/// <param name="Before">In the earlier edition.</param>
/// <param name="After">In the later edition, of the same area and species.</param>
public sealed record TrendMove(Trend Before, Trend After)
{
    /// <summary>What each cause moved, in the order they were taken in; empty where that was not found out.</summary>
    public IReadOnlyList<CauseMove<Trend>> ByCause { get; init; } = [];

    /// <summary>How far the slope moved, in percentage points each season; null without two.</summary>
    public double? Percent => After.PercentPerSeason - Before.PercentPerSeason;

    /// <summary>Whether both have a range; a move without one is mostly chance.</summary>
    public bool HasRanges => Ranged(Before) && Ranged(After);

    private static bool Ranged(Trend trend) => trend.Interval is IntervalKind.ObservedChange or IntervalKind.ObservedChangeStations;

    /// <summary>Whether the direction's word is another.</summary>
    public bool NewWord => Before.Direction != After.Direction || Before.Status != After.Status;

    /// <summary>Whether anything of the trend moved: its slope, an end of one of its ranges, or its word.</summary>
    public bool Moved => NewWord
        || EditionComparison.Differ(Before.PercentPerSeason, After.PercentPerSeason)
        || EditionComparison.Differ(Before.Lower, After.Lower) || EditionComparison.Differ(Before.Upper, After.Upper)
        || EditionComparison.Differ(Before.LowerUnderlying, After.LowerUnderlying) || EditionComparison.Differ(Before.UpperUnderlying, After.UpperUnderlying);
}

/// <summary>Two editions side by side.</summary>
/// <param name="Before">The earlier one by number.</param>
/// <param name="After">The later one.</param>
/// <param name="Causes">What can have moved them.</param>
/// <param name="Surveys">How the copies of the surveys differ.</param>
/// <param name="OtherSpecies">Species listed in one only, or with other words, window, coefficient or protection.</param>
/// <param name="OtherExpected">Areas of both with another expected list.</param>
/// <param name="Settings">Settings that differ.</param>
/// <param name="Run">What of the run differs.</param>
/// <param name="Engine">What of the engine differs.</param>
/// <param name="Conditions">Conditions that moved, the most first.</param>
/// <param name="Trends">Trends that moved, those with another word first, then those with ranges, then the most.</param>
/// <param name="Compared">How many trends both have.</param>
/// <param name="Between">Published editions between the two, by number.</param>
/// <param name="Apart">The causes of the steps in which it was found out what each moved, in order; empty where it was not.</param>
public sealed record EditionComparison(
    EditionHeader Before,
    EditionHeader After,
    EditionCauses Causes,
    SurveyDifference Surveys,
    int OtherSpecies,
    int OtherExpected,
    IReadOnlyList<SettingChange> Settings,
    IReadOnlyList<ManifestChange> Run,
    IReadOnlyList<ManifestChange> Engine,
    IReadOnlyList<ConditionMove> Conditions,
    IReadOnlyList<TrendMove> Trends,
    int Compared,
    IReadOnlyList<long> Between,
    IReadOnlyList<EditionCauses> Apart)
{
    /// <summary>Differences below this are rounding between machines, not a move: 1e-9 relative is what the engine promises.</summary>
    private const double Same = 1e-6;

    /// <summary>Whether two numbers differ by more than rounding, or one of them is missing.</summary>
    internal static bool Differ(double? before, double? after) => before is null != after is null || Math.Abs((after - before) ?? 0) > Same;

    /// <summary>How many causes there are.</summary>
    public int CauseCount => System.Numerics.BitOperations.PopCount((uint)Causes);
}
