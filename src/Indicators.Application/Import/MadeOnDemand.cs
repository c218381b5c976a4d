using System.Collections;

namespace Indicators.Application.Import;

/// <summary>A list whose things are made each time they are asked for, and kept by nobody.</summary>
/// <param name="count">How many there are.</param>
/// <param name="make">Makes the one at a place.</param>
internal sealed class MadeOnDemand<T>(int count, Func<int, T> make) : IReadOnlyList<T>
{
    public int Count => count;

    public T this[int index] => make(index);

    public IEnumerator<T> GetEnumerator() => Enumerable.Range(0, count).Select(make).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
