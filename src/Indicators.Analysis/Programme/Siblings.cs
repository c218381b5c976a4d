using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Analysis.Programme;

/// <summary>Areas of one level beside each other: disjoint, so that they can be pooled.</summary>
/// <param name="Parent">The watershed they lie in; null for the whole programme.</param>
/// <param name="Level">How many digits their codes have.</param>
/// <param name="Areas">The areas, ordered by code, two or more.</param>
internal sealed record Siblings(WatershedCode? Parent, int Level, IReadOnlyList<AreaResult> Areas)
{
    /// <summary>
    /// The level with the most areas over the whole programme, the finer of two; then, for every area, the areas one
    /// level below it.
    /// </summary>
    public static IReadOnlyList<Siblings> Of(IReadOnlyList<AreaResult> results)
    {
        var ordered = results.OrderBy(result => result.Area.Code).ToArray();
        var sets = ordered
            .GroupBy(result => result.Area.Code.Digits)
            .OrderByDescending(level => level.Count())
            .ThenByDescending(level => level.Key)
            .Take(1)
            .Select(level => new Siblings(null, level.Key, [.. level]))
            .Concat(ordered
                .Where(result => result.Area.Code.Parent is not null)
                .GroupBy(result => result.Area.Code.Parent!.Value)
                .OrderBy(set => set.Key)
                .Select(set => new Siblings(set.Key, set.First().Area.Code.Digits, [.. set])));
        return [.. sets.Where(set => set.Areas.Count >= 2)];
    }
}
