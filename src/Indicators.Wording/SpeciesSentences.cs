using Indicators.Analysis.Options;
using Indicators.Monitoring;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What there is to say about a species before any result.</summary>
public static class SpeciesSentences
{
    /// <summary>When people listen for it.</summary>
    public static string Window(Species species) =>
        Say("species.window", ("first", Phrases.Day(species.Window.First)), ("last", Phrases.Day(species.Window.Last)));

    /// <summary>What is kept back about a protected species; null for the others.</summary>
    public static string? KeptBack(Species species, DisclosureOptions options) => species.Protected
        ? Say("species.keptBack", ("n", options.MinimumWetlands))
        : null;
}
