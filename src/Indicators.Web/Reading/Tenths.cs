using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>Points of a score as they stand in a table: one decimal, a true minus sign, never "−0.0".</summary>
internal static class Tenths
{
    public static string Text(decimal? points, bool signed = true) => points switch
    {
        null => "",
        { } value when signed => Phrases.WithSign((double)value, "0.0"),
        { } value => Phrases.Number((double)value, "0.0"),
    };
}
