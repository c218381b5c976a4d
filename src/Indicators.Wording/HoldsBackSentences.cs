using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What holds a score below 100.</summary>
public static class HoldsBackSentences
{
    /// <summary>The heading.</summary>
    public static string Heading => Say("holds.heading");

    /// <summary>The heading over the parts.</summary>
    public static string PartsHeading => Say("holds.partsHeading");

    /// <summary>The heading over the chances of the classes.</summary>
    public static string ChancesHeading => Say("holds.chances");

    /// <summary>The species that holds it back most, with its points.</summary>
    public static string Most(string species, string points) => Say("holds.most", ("species", species), ("points", points));

    /// <summary>A part or a class with its number, for a list.</summary>
    public static string Line(string name, string number) => Say("holds.chance", ("class", name), ("share", number));

    /// <summary>What the bars show, for those who do not see them.</summary>
    public static string Picture(int season, IEnumerable<(string Species, string Points)> items) =>
        Say("holds.picture", ("season", Phrases.Season(season)), ("first", Items(items)));

    /// <summary>How likely each class is, good first; null without a score.</summary>
    public static IReadOnlyList<string> Chances(Condition condition) =>
        condition is { Score: not null, ProbabilityGood: { } good, ProbabilityFair: { } fair, ProbabilityPoor: { } poor }
            ? [Chance(ConditionClass.Good, good), Chance(ConditionClass.Fair, fair), Chance(ConditionClass.Poor, poor)]
            : [];

    private static string Chance(ConditionClass name, double share) =>
        Line(Phrases.Capital(ConditionSentences.ClassName(name)), Phrases.Chance(share));

    private static string Items(IEnumerable<(string Name, string Points)> items) =>
        Phrases.Join([.. items.Select(item => Say("holds.item", ("species", item.Name), ("points", item.Points)))]);
}
