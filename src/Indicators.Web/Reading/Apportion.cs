namespace Indicators.Web.Reading;

/// <summary>Rounds numbers so that what is shown adds up to the total that is shown (largest remainder).</summary>
internal static class Apportion
{
    /// <summary>Each value in steps of one tenth, such that they add up to the total rounded to tenths.</summary>
    public static IReadOnlyList<decimal> Tenths(IReadOnlyList<double> values, decimal total)
    {
        const decimal Step = 0.1m;
        var floors = values.Select(value => Math.Floor((decimal)value / Step)).ToList();
        int missing = (int)(total / Step - floors.Sum());
        if (values.Count == 0)
            return [];
        // Rounding moves a sum by less than half a step a value, so this stays within one step each unless the total is not theirs.
        int each = Math.DivRem(missing, values.Count, out int rest);
        if (rest < 0)
            (each, rest) = (each - 1, rest + values.Count);
        var first = Enumerable.Range(0, values.Count)
            .OrderByDescending(place => (decimal)values[place] / Step - floors[place])
            .ThenBy(place => place)
            .Take(rest)
            .ToHashSet();
        return [.. floors.Select((floor, place) => (floor + each + (first.Contains(place) ? 1 : 0)) * Step)];
    }

    /// <summary>A value in steps of one tenth.</summary>
    public static decimal Tenth(double value) => Math.Round((decimal)value, 1, MidpointRounding.AwayFromZero);
}
