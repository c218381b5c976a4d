using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>How one area's score stands beside another's: only as far as their ranges carry it.</summary>
public enum Beside
{
    /// <summary>Its whole range lies above.</summary>
    Higher,

    /// <summary>Its whole range lies below.</summary>
    Lower,

    /// <summary>The ranges meet.</summary>
    Close,

    /// <summary>One of them has no score with a range.</summary>
    NoScore,
}

/// <summary>Areas beside each other, without a ranking.</summary>
public static class CompareSentences
{
    /// <summary>
    /// How another score stands beside this one. Ranges that do not meet are a stricter rule than a test of the difference; their ends count as they are shown, in
    /// whole points, so that no two ranges that meet on the page are told apart.
    /// </summary>
    public static Beside Of(Condition? here, Condition? other)
    {
        if (here is not { Lower: { } lower, Upper: { } upper } || other is not { Lower: { } otherLower, Upper: { } otherUpper })
            return Beside.NoScore;
        return Shown(otherLower) > Shown(upper) ? Beside.Higher : Shown(otherUpper) < Shown(lower) ? Beside.Lower : Beside.Close;

        static double Shown(double points) => Math.Round(points, MidpointRounding.AwayFromZero);
    }

    /// <summary>The heading.</summary>
    public static string Heading => Say("compare.heading");

    /// <summary>When scores are said to differ.</summary>
    public static string Rule => Say("compare.rule");

    /// <summary>How many differ clearly.</summary>
    /// <param name="area">The area they are set beside.</param>
    /// <param name="hasScore">Whether it has a score itself.</param>
    /// <param name="others">How the others stand.</param>
    public static string Summary(string area, bool hasScore, IReadOnlyCollection<Beside> others)
    {
        int scored = others.Count(each => each != Beside.NoScore), clear = others.Count(each => each is Beside.Higher or Beside.Lower);
        if (!hasScore)
            return Say("compare.noneHere");
        if (scored == 0)
            return Say("compare.none");
        return clear == 0 ? Say("compare.allClose", ("n", scored)) : Say("compare.some", ("clear", clear), ("n", scored), ("area", area));
    }

    /// <summary>What the table holds.</summary>
    public static string Caption(int season, string area) => Say("compare.caption", ("season", Phrases.Season(season)), ("area", area));

    /// <summary>The table's columns.</summary>
    public static IReadOnlyList<string> Columns(string area) => [Say("compare.watershed"), Say("compare.points"), Say("compare.beside", ("area", area))];

    /// <summary>A cell.</summary>
    public static string Label(Beside beside) => beside switch
    {
        Beside.Higher => Say("compare.higher"),
        Beside.Lower => Say("compare.lower"),
        Beside.Close => Say("compare.close"),
        _ => Say("compare.noScore"),
    };

    /// <summary>A watershed that holds the one at hand.</summary>
    public static string Holding(string area) => Say("compare.holding", ("area", area));

    /// <summary>The clearest difference between areas for a species; that there is none when <paramref name="low"/> is null.</summary>
    public static string OfSpecies(string species, string? low, string? high) => low is null || high is null
        ? Say("compare.speciesClose")
        : Say("compare.speciesClear", ("species", species), ("low", low), ("high", high));
}
