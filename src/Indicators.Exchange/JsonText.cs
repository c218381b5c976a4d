using System.Text.Json;

namespace Indicators.Exchange;

/// <summary>Reads strings and keys of JSON that may hold half a surrogate pair, which no text can.</summary>
internal static class JsonText
{
    /// <summary>The member of an object with this name, the last one when it stands there twice; null when there is none.</summary>
    public static JsonElement? Member(JsonElement element, string name)
    {
        if (element.ValueKind != JsonValueKind.Object) return null;
        JsonElement? found = null;
        foreach (var member in element.EnumerateObject())
        {
            try
            {
                if (member.NameEquals(name)) found = member.Value;
            }
            catch (InvalidOperationException)
            {
                // A key that is no text is not the one.
            }
        }
        return found;
    }

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
