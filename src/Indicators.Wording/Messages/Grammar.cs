namespace Indicators.Wording.Messages;

/// <summary>What a message needs to know of its language: its digits and its plural categories, tried in order.</summary>
internal sealed record Grammar(Digits Digits, IReadOnlyList<(string Category, PluralRule Rule)> Plurals)
{
    /// <summary>The plural category of a whole number; <c>other</c> when no rule holds.</summary>
    public string CategoryOf(long number)
    {
        foreach (var (category, rule) in Plurals)
        {
            if (rule.Holds(number))
                return category;
        }
        return "other";
    }
}
