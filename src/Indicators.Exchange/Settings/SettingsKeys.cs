using System.Text.Json;
using Indicators.Analysis.Options;

namespace Indicators.Exchange.Settings;

/// <summary>One setting that differs.</summary>
/// <param name="Key">Its key as in the settings file, with dots between: <c>score.good_from</c>.</param>
/// <param name="Before">Its value before, as JSON; null when there was none.</param>
/// <param name="After">Its value after.</param>
public sealed record SettingChange(string Key, string? Before, string? After);

/// <summary>Settings as single keys, in the words of the settings file.</summary>
public static class SettingsKeys
{
    /// <summary>Every key whose value differs, in the file's order.</summary>
    public static IReadOnlyList<SettingChange> Differences(ProgrammeSettings before, ProgrammeSettings after)
    {
        var (old, now) = (Flat(before), Flat(after));
        return [.. old.Select(each => each.Key).Union(now.Select(each => each.Key))
            .Select(key => new SettingChange(key, Value(old, key), Value(now, key)))
            .Where(change => change.Before != change.After)];
    }

    private static string? Value(List<KeyValuePair<string, string>> settings, string key) =>
        settings.Where(each => each.Key == key).Select(each => each.Value).FirstOrDefault();

    private static List<KeyValuePair<string, string>> Flat(ProgrammeSettings settings)
    {
        using var document = JsonDocument.Parse(SettingsJson.Write(settings));
        var found = new List<KeyValuePair<string, string>>();
        Gather(document.RootElement, "");
        return found;

        void Gather(JsonElement element, string prefix)
        {
            foreach (var property in element.EnumerateObject())
            {
                if (property.Value.ValueKind == JsonValueKind.Object)
                    Gather(property.Value, $"{prefix}{property.Name}.");
                else
                    found.Add(new(prefix + property.Name, OneLine(property.Value)));
            }
        }
    }

    private static string OneLine(JsonElement value) => JsonSerializer.Serialize(value);
}
