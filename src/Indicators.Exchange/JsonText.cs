using System.Text.Json;

namespace Indicators.Exchange;

/// <summary>Reads strings of JSON that may hold half a surrogate pair, which no text can.</summary>
internal static class JsonText
{
    /// <summary>The string, or null when the element is none or is not valid text.</summary>
    public static string? OrNull(JsonElement element)
    {
        if (element.ValueKind != JsonValueKind.String) return null;
        try
        {
            return element.GetString();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }
}
