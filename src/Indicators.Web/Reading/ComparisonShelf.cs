using Indicators.Application.Editions;
using Indicators.Storage.Editions;

namespace Indicators.Web.Reading;

/// <summary>
/// Keeps the comparisons asked for last. Editions never change, so neither does what differs between two; what moved it may be found out later.
/// </summary>
internal sealed class ComparisonShelf(CompareEditions compare, IEditionReader editions)
{
    private const int Room = 8;

    private readonly Lock _door = new();
    private readonly LinkedList<EditionComparison> _latest = new();
    private long _steps;

    /// <summary>Two editions side by side, the earlier first; null when one of them is unknown or both are the same.</summary>
    public EditionComparison? Of(long one, long other)
    {
        long steps = editions.StepsKept();
        if (Known(one, other, steps) is { } known)
            return known;
        // Worked out outside the lock: two readers at once may both do it.
        if (compare.Run(one, other) is not { } made)
            return null;
        lock (_door)
        {
            if (steps == _steps)
                _latest.AddFirst(made);
            if (_latest.Count > Room)
                _latest.RemoveLast();
        }
        return made;
    }

    private EditionComparison? Known(long one, long other, long steps)
    {
        lock (_door)
        {
            if (steps != _steps)
                _latest.Clear();
            _steps = steps;
            var known = _latest.FirstOrDefault(each => each.Before.Number == Math.Min(one, other) && each.After.Number == Math.Max(one, other));
            if (known is not null)
            {
                _latest.Remove(known);
                _latest.AddFirst(known);
            }
            return known;
        }
    }
}
