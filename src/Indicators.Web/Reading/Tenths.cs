using System.Globalization;

namespace Indicators.Web.Reading;

/// <summary>Points of a score as they stand in a table: one decimal, a true minus sign, never "−0.0".</summary>
internal static class Tenths
{
    public static string Text(decimal? points, bool signed = true) => points switch
    {
        null => "",
        0 => "0.0",
        < 0 => "\u2212" + (-points.Value).ToString("0.0", CultureInfo.InvariantCulture),
        _ => (signed ? "+" : "") + points.Value.ToString("0.0", CultureInfo.InvariantCulture),
    };
}
