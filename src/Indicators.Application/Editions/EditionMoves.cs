using Indicators.Analysis.Results;
using Indicators.Exchange.Export;

namespace Indicators.Application.Editions;

/// <summary>What moved between two editions, as rows to take away.</summary>
internal static class EditionMoves
{
    internal static IEnumerable<MoveRow> Of(EditionComparison comparison) =>
    [
        .. comparison.Conditions.SelectMany(move => Rows(move.Area.ToString(), null, move.ByCause, move.Before, move.After, Of)),
        .. comparison.Trends.SelectMany(move => Rows(move.After.Area.ToString(), move.After.Species.ToString(), move.ByCause, move.Before, move.After, Of)),
    ];

    private static IEnumerable<MoveRow> Rows<T>(string area, string? species, IReadOnlyList<CauseMove<T>> steps, T? before, T? after, Func<T?, MovedValue?> of)
        where T : class =>
        steps.Prepend(new CauseMove<T>(EditionCauses.None, before, after)).Select(step => new MoveRow(area, species, step.Causes, of(step.Before), of(step.After)));

    private static MovedValue? Of(Condition? condition) => condition is null ? null
        : new MovedValue(condition.Score, condition.Lower, condition.Upper, condition.Class is { } value ? ResultCode.Of(value) : null);

    private static MovedValue? Of(Trend? trend) => trend is null ? null
        : new MovedValue(trend.PercentPerSeason, trend.LowerUnderlying, trend.UpperUnderlying, ResultCode.Of(trend.Direction));
}
