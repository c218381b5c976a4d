using System.Collections.Frozen;
using System.Globalization;
using System.Text.Json;
using Indicators.Wording.Messages;

namespace Indicators.Wording;

/// <summary>
/// A language that pages speak: one file of messages under <c>Languages</c>, with its digits and plural rules. Another file
/// there is another language.
/// </summary>
/// <remarks>
/// Sentences speak the language of <see cref="CultureInfo.CurrentUICulture"/>, and English where that has no file. Digits,
/// months and plurals are the language's own, so that a sentence never mixes the words of one with the digits of another.
/// </remarks>
public sealed class Language
{
    private const string Folder = "Languages/";
    private const string DefaultTag = "en";

    // The plural categories of Unicode Technical Standard 35; "other" is what is left.
    private static readonly string[] Categories = ["zero", "one", "two", "few", "many"];

    private static readonly FrozenDictionary<string, Lazy<Language>> ByTag = typeof(Language).Assembly.GetManifestResourceNames()
        .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
        .Select(name => name[Folder.Length..^".json".Length])
        .ToFrozenDictionary(tag => tag, tag => new Lazy<Language>(() => new Language(tag)), StringComparer.OrdinalIgnoreCase);

    private readonly FrozenDictionary<string, Message> _messages;
    private readonly Grammar _grammar;

    private Language(string tag)
    {
        Tag = tag;
        Culture = CultureInfo.GetCultureInfo(tag);
        var texts = Read(tag);
        _messages = texts.ToFrozenDictionary(text => text.Key, text => Message.Parse(text.Value), StringComparer.Ordinal);
        Name = texts["language.name"];
        _grammar = new Grammar(
            new Digits(texts["language.point"], texts["language.group"], int.Parse(texts["language.groupFrom"], NumberStyles.None, CultureInfo.InvariantCulture)),
            [.. Categories.Where(category => texts.ContainsKey(PluralKey(category))).Select(category => (category, PluralRule.Parse(texts[PluralKey(category)])))]);
    }

    /// <summary>English, spoken wherever no other language is asked for.</summary>
    public static Language Default => ByTag[DefaultTag].Value;

    /// <summary>Every language there is, the default first.</summary>
    public static IReadOnlyList<Language> All { get; } =
        [.. ByTag.Values.Select(each => each.Value).OrderBy(each => each.Tag != DefaultTag).ThenBy(each => each.Tag, StringComparer.Ordinal)];

    /// <summary>The language sentences speak just now.</summary>
    public static Language Current => Of(CultureInfo.CurrentUICulture);

    /// <summary>Its BCP 47 tag, such as <c>es</c>.</summary>
    public string Tag { get; }

    /// <summary>Its own name for itself.</summary>
    public string Name { get; }

    /// <summary>The culture to set for pages in it.</summary>
    public CultureInfo Culture { get; }

    /// <summary>Whether it is the one spoken when none is asked for.</summary>
    public bool IsDefault => Tag == DefaultTag;

    /// <summary>The language of a culture; the default for one without a file.</summary>
    public static Language Of(CultureInfo culture) =>
        ByTag.TryGetValue(culture.TwoLetterISOLanguageName, out var found) ? found.Value : Default;

    /// <summary>Every message's key with its pattern.</summary>
    public IEnumerable<(string Key, string Pattern)> Messages => _messages.Select(each => (each.Key, each.Value.Pattern));

    /// <summary>The names of the values a message has places for.</summary>
    public IReadOnlySet<string> ArgumentsOf(string key) => _messages[key].Arguments.ToHashSet();

    internal Digits Digits => _grammar.Digits;

    internal static string Say(string key, params ReadOnlySpan<Argument> values)
    {
        var language = Current;
        return language._messages[key].Say(values, language._grammar);
    }

    private static string PluralKey(string category) => $"language.plural.{category}";

    private static Dictionary<string, string> Read(string tag)
    {
        using var stream = typeof(Language).Assembly.GetManifestResourceStream($"{Folder}{tag}.json")!;
        using var document = JsonDocument.Parse(stream, new JsonDocumentOptions { AllowDuplicateProperties = false });
        var texts = new Dictionary<string, string>(StringComparer.Ordinal);
        Gather(document.RootElement, "");
        return texts;

        void Gather(JsonElement element, string prefix)
        {
            foreach (var property in element.EnumerateObject())
            {
                if (property.Value.ValueKind == JsonValueKind.Object)
                    Gather(property.Value, $"{prefix}{property.Name}.");
                else
                    texts.Add(prefix + property.Name, property.Value.GetString()!);
            }
        }
    }
}
