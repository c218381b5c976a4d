using System.Collections.Immutable;

namespace Indicators.Statistics.Occupancy;

/// <summary>
/// Which intervals between seasons share a rate of colonisation and which share a rate of extinction.
/// </summary>
/// <remarks>
/// Interval t leads from season t to season t + 1. Intervals with the same number share one rate; numbers run from 0
/// without gaps. With a rate for every interval, a season that nobody surveyed leaves its two intervals indistinguishable:
/// shared rates carry over such gaps.
/// </remarks>
public sealed class TransitionGroups
{
    /// <summary>Groups written out.</summary>
    /// <param name="colonisation">The group of each interval's colonisation rate, one fewer than the seasons.</param>
    /// <param name="extinction">The group of each interval's extinction rate, as many.</param>
    /// <exception cref="ArgumentException">Lengths differ or a number is skipped: a bug of the caller.</exception>
    public TransitionGroups(ReadOnlySpan<int> colonisation, ReadOnlySpan<int> extinction)
    {
        if (colonisation.Length != extinction.Length) throw new ArgumentException("One group an interval in both.", nameof(extinction));
        (Colonisation, ColonisationRates) = Checked(colonisation, nameof(colonisation));
        (Extinction, ExtinctionRates) = Checked(extinction, nameof(extinction));
    }

    /// <summary>The colonisation group of each interval.</summary>
    public ImmutableArray<int> Colonisation { get; }

    /// <summary>The extinction group of each interval.</summary>
    public ImmutableArray<int> Extinction { get; }

    /// <summary>How many colonisation rates there are.</summary>
    public int ColonisationRates { get; }

    /// <summary>How many extinction rates there are.</summary>
    public int ExtinctionRates { get; }

    /// <summary>How many seasons the intervals connect.</summary>
    public int Seasons => Colonisation.Length + 1;

    /// <summary>One season, nothing to connect.</summary>
    public static TransitionGroups None { get; } = new([], []);

    /// <summary>One rate of colonisation and one of extinction for all intervals.</summary>
    public static TransitionGroups Constant(int seasons) => new(new int[seasons - 1], new int[seasons - 1]);

    /// <summary>A rate of each kind for every interval.</summary>
    public static TransitionGroups ByInterval(int seasons)
    {
        int[] own = [.. Enumerable.Range(0, seasons - 1)];
        return new(own, own);
    }

    private static (ImmutableArray<int>, int) Checked(ReadOnlySpan<int> groups, string name)
    {
        int highest = -1;
        foreach (int group in groups)
            highest = Math.Max(highest, group);
        for (int g = 0; g <= highest; g++)
            if (!groups.Contains(g)) throw new ArgumentException("Groups are numbered from 0 without gaps.", name);
        if (groups.Length > 0 && groups.IndexOfAnyInRange(int.MinValue, -1) >= 0) throw new ArgumentException("Groups are numbered from 0.", name);
        return ([.. groups], highest + 1);
    }
}
