using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>
/// Changes in percent per season as words: <c>4 % less</c>, <c>from 8 % less to 2 % more</c>. Whole percents, or one decimal
/// when a number of the sentence is under 2; never a minus sign and never a rounded-off "0 % less".
/// </summary>
public static class ChangeWords
{
    private const double OneDecimalBelow = 2;
    private const double NoChangeBelow = 0.05;
    private const double SpokenCeiling = 1000;

    /// <summary>One change: <c>4 % less</c>, <c>0.3 % more</c>, <c>almost no change</c>.</summary>
    /// <param name="percent">Percent per season, −100 upward.</param>
    /// <param name="beside">The other numbers of the sentence, which share its decimals.</param>
    public static string Amount(double percent, params double?[] beside) =>
        Amount(percent, Decimals([percent, .. beside]));

    /// <summary>An interval, in percent per season; null for an end without a finite limit.</summary>
    /// <param name="lower">Its lower end.</param>
    /// <param name="upper">Its upper end.</param>
    /// <param name="beside">The other numbers of the sentence, which share its decimals.</param>
    public static string Range(double? lower, double? upper, params double?[] beside)
    {
        int decimals = Decimals([lower, upper, .. beside]);
        return (lower, upper) switch
        {
            (null, null) => Say("change.lossToNoLimit"),
            (null, { } u) when u <= -NoChangeBelow => Say("change.atLeast", ("amount", Amount(u, decimals))),
            (null, { } u) => Say("change.lossTo", ("amount", Amount(u, decimals))),
            ({ } l, null) when l >= NoChangeBelow => Say("change.atLeast", ("amount", Amount(l, decimals))),
            ({ } l, null) => Say("change.toNoLimit", ("amount", Amount(l, decimals))),
            ({ } l, { } u) => Between(l, u, decimals),
        };
    }

    /// <summary>Whether so small a change is told as none.</summary>
    internal static bool IsAlmostNone(double percent) => Math.Abs(percent) < NoChangeBelow;

    private static string Between(double lower, double upper, int decimals)
    {
        string from = Amount(lower, decimals), to = Amount(upper, decimals);
        if (from == to)
            return IsAlmostNone(lower) ? from : Say("change.about", ("amount", from));
        if (IsAlmostNone(lower) || IsAlmostNone(upper) || lower < 0 != upper < 0)
            return Say("change.fromTo", ("from", from), ("to", to));
        return lower < 0
            ? Say("change.span", ("near", Number(upper, decimals)), ("far", from))
            : Say("change.span", ("near", Number(lower, decimals)), ("far", to));
    }

    private static int Decimals(ReadOnlySpan<double?> values)
    {
        foreach (double? value in values)
        {
            if (value is { } number && Math.Abs(number) < OneDecimalBelow)
                return 1;
        }
        return 0;
    }

    private static string Amount(double percent, int decimals)
    {
        if (IsAlmostNone(percent))
            return Say("change.none");
        return Say(percent < 0 ? "change.less" : "change.more", ("number", Number(percent, decimals)));
    }

    private static string Number(double percent, int decimals)
    {
        double size = Math.Abs(percent);
        if (size >= SpokenCeiling)
            return Say("change.over1000");
        // A calling that falls by 99.7 % has not fallen by all of it.
        if (percent < 0 && size < 100 && Math.Round(size, decimals, MidpointRounding.AwayFromZero) >= 100)
            return Say("change.over99");
        return Phrases.Number(size, decimals == 0 ? "0" : "0.0");
    }
}
