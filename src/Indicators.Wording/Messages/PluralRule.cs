using System.Globalization;

namespace Indicators.Wording.Messages;

/// <summary>
/// When a whole number falls into one plural category of a language, in the rule syntax of Unicode Technical Standard 35
/// (LDML, part 3, "Language Plural Rules"): <c>n = 1</c>, <c>n % 10 = 2..4 and n % 100 != 12..14</c>. Only what whole numbers
/// need: operands n and i, which are then the same.
/// </summary>
internal sealed class PluralRule
{
    private readonly Relation[][] _anyOf;

    private PluralRule(Relation[][] anyOf) => _anyOf = anyOf;

    public static PluralRule Parse(string rule) =>
        new([.. rule.Split(" or ").Select(all => all.Split(" and ").Select(Relation.Parse).ToArray())]);

    public bool Holds(long number) => Array.Exists(_anyOf, all => Array.TrueForAll(all, relation => relation.Holds(Math.Abs(number))));

    private sealed record Relation(long Modulus, bool Negated, (long From, long To)[] Ranges)
    {
        public static Relation Parse(string text)
        {
            bool negated = text.Contains("!=", StringComparison.Ordinal);
            string[] sides = text.Split(negated ? "!=" : "=");
            string[] left = sides[0].Split('%', StringSplitOptions.TrimEntries);
            if (sides.Length != 2 || left[0] is not ("n" or "i"))
                throw new FormatException($"Not a plural rule: {text}");
            return new Relation(left.Length == 2 ? Number(left[1]) : 0, negated, [.. sides[1].Split(',').Select(Range)]);
        }

        public bool Holds(long number)
        {
            long value = Modulus == 0 ? number : number % Modulus;
            return Array.Exists(Ranges, range => value >= range.From && value <= range.To) != Negated;
        }

        private static (long, long) Range(string text)
        {
            string[] ends = text.Split("..");
            return (Number(ends[0]), Number(ends[^1]));
        }

        private static long Number(string text) => long.Parse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture);
    }
}
