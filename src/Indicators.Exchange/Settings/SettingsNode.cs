using System.Globalization;
using System.Text.Json;
using Indicators.Monitoring;

namespace Indicators.Exchange.Settings;

/// <summary>
/// One JSON object of the settings while it is read: hands out values by key, falls back to defaults, and collects what is
/// wrong, at last the keys that nobody asked for.
/// </summary>
internal sealed class SettingsNode
{
    private readonly Dictionary<string, JsonElement> _members = new(StringComparer.Ordinal);
    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);
    private readonly string _path;
    private readonly string _file;
    private readonly List<Problem> _problems;

    public SettingsNode(JsonElement element, string path, string file, List<Problem> problems)
    {
        _path = path;
        _file = file;
        _problems = problems;
        if (element.ValueKind != JsonValueKind.Object)
        {
            Wrong(path, element, "an object with keys and values in braces");
            return;
        }
        foreach (var member in element.EnumerateObject())
            _members.Add(member.Name, member.Value);
    }

    public double Number(string key, double fallback, double least, double most) =>
        Value(key, fallback, e => e.ValueKind == JsonValueKind.Number && e.TryGetDouble(out double n) && n >= least && n <= most ? n : null,
            $"a number from {Text(least)} to {Text(most)}");

    public int Whole(string key, int fallback, int least, int most) =>
        Value(key, fallback, e => e.ValueKind == JsonValueKind.Number && e.TryGetInt32(out int n) && n >= least && n <= most ? n : null,
            $"a whole number from {Text(least)} to {Text(most)}");

    public T Value<T>(string key, T fallback, Func<JsonElement, T?> read, string rule)
        where T : struct
    {
        if (!Given(key, out var element)) return fallback;
        if (read(element) is { } value) return value;
        Wrong(Path(key), element, rule);
        return fallback;
    }

    public string Words(string key, string fallback, Func<string, bool> isGood, string rule)
    {
        if (!Given(key, out var element)) return fallback;
        if (JsonText.OrNull(element)?.Trim() is { Length: > 0 } text && isGood(text)) return text;
        Wrong(Path(key), element, rule);
        return fallback;
    }

    /// <summary>A value the object cannot do without.</summary>
    public void Require(params ReadOnlySpan<string> keys)
    {
        foreach (string key in keys)
        {
            if (!_members.ContainsKey(key))
                _problems.Add(new Problem(ProblemKind.SettingValue, _file) { Column = Path(key), Value = "", Rule = "a value; this key cannot be left out" });
        }
    }

    /// <summary>The object at a key; an empty one when it is left out, so that every default applies.</summary>
    public SettingsNode Child(string key) =>
        Given(key, out var element)
            ? new SettingsNode(element, Path(key), _file, _problems)
            : new SettingsNode(JsonElement.Parse("{}"), Path(key), _file, _problems);

    /// <summary>The object at a key, or null when the file says null. Not given: <paramref name="given"/> is false.</summary>
    public SettingsNode? NullableChild(string key, out bool given)
    {
        given = Given(key, out var element);
        return given && element.ValueKind != JsonValueKind.Null ? new SettingsNode(element, Path(key), _file, _problems) : null;
    }

    /// <summary>The elements of the list at a key with their paths; null when it is left out or null.</summary>
    public IReadOnlyList<(JsonElement Element, string Path)>? List(string key)
    {
        if (!Given(key, out var element) || element.ValueKind == JsonValueKind.Null) return null;
        if (element.ValueKind == JsonValueKind.Array)
            return [.. element.EnumerateArray().Select((e, i) => (e, $"{Path(key)}[{Text(i)}]"))];
        Wrong(Path(key), element, "a list in square brackets");
        return null;
    }

    public void Wrong(string path, JsonElement element, string rule) =>
        _problems.Add(new Problem(ProblemKind.SettingValue, _file)
        {
            Column = path.Length == 0 ? null : path,
            Value = JsonText.OrNull(element) ?? element.GetRawText(),
            Rule = rule,
        });

    /// <summary>Says which keys nobody asked for. Call it last.</summary>
    public void Close()
    {
        foreach (string key in _members.Keys.Where(k => !_asked.Contains(k)))
            _problems.Add(new Problem(ProblemKind.SettingUnknown, _file) { Column = Path(key), Names = [.. _asked.Order(StringComparer.Ordinal)] });
    }

    private bool Given(string key, out JsonElement element)
    {
        _asked.Add(key);
        return _members.TryGetValue(key, out element);
    }

    private string Path(string key) => _path.Length == 0 ? key : $"{_path}.{key}";

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
