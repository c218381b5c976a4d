using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Wording;

/// <summary>What there is to say about a species before any result.</summary>
public static class SpeciesSentences
{
    /// <summary>When people listen for it.</summary>
    public static string Window(Species species) =>
        $"It calls from {Day(species.Window.First)} to {Day(species.Window.Last)}, and only surveys in that time count.";

    /// <summary>What is kept back about a protected species; null for the others.</summary>
    public static string? KeptBack(Species species, DisclosureOptions options) => species.Protected
        ? $"Telling where it lives could harm it. So we show it only for areas with {Phrases.Count(options.MinimumWetlands)} or more wetlands, and never a place."
        : null;

    private static string Day(AnnualDate day)
    {
        // A leap year, so that 29 February has a name.
        var date = day.InYear(2024);
        return $"{date.Day.ToString(CultureInfo.InvariantCulture)}{Phrases.HardSpace}{CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(date.Month)}";
    }
}
