using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The usual cautions of night listening, each with its source. Local rules, permits and trained people come first.</summary>
public static class Cautions
{
    /// <summary>What stands above all the others.</summary>
    public static string First => Say("caution.first");

    /// <summary>All cautions, in the order to read them.</summary>
    public static IReadOnlyList<Caution> All =>
    [
        Of("before", "permits", null),
        Of("before", "someone", null),
        Of("road", "vest", "road"),
        Of("road", "unsafeStop", "routes"),
        Of("water", "bank", null),
        Of("hold", "brief", "handling"),
        Of("hold", "hands", null),
        Of("hold", "letGo", null),
        Of("hold", "gloves", "gloves"),
        Of("between", "bleach", "bleach"),
        Of("between", "stronger", "stronger"),
        Of("between", "away", "away"),
        Of("between", "burns", "burns"),
        Of("risk", "listed", "listed"),
    ];

    private static Caution Of(string topic, string advice, string? source) => new(
        Say($"caution.topic.{topic}"), Say($"caution.say.{advice}"), source is null ? null : Say($"caution.source.{source}"));
}
