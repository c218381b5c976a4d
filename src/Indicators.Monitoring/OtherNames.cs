using System.Collections.Frozen;

namespace Indicators.Monitoring;

/// <summary>What people call a species in other languages, each as it stands inside a sentence. Equal by content.</summary>
public sealed class OtherNames : IEquatable<OtherNames>
{
    private readonly FrozenDictionary<string, string> _byLanguage;

    private OtherNames(IEnumerable<KeyValuePair<string, string>> names) => _byLanguage = names.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>No name in any other language.</summary>
    public static OtherNames None { get; } = new([]);

    /// <summary>These names.</summary>
    /// <param name="names">Primary language subtags of BCP 47 in small letters, such as <c>es</c>, and names; no language twice.</param>
    public static OtherNames Of(IEnumerable<KeyValuePair<string, string>> names) => new OtherNames(names) is { _byLanguage.Count: > 0 } some ? some : None;

    /// <summary>Whether something can be the subtag of a language here: two or three small letters.</summary>
    public static bool IsLanguage(string text) => text.Length is 2 or 3 && text.All(char.IsAsciiLetterLower);

    /// <summary>Languages and names, ordered by language.</summary>
    public IEnumerable<KeyValuePair<string, string>> All => _byLanguage.OrderBy(each => each.Key, StringComparer.Ordinal);

    /// <summary>The name in a language, or null.</summary>
    public string? In(string language) => _byLanguage.GetValueOrDefault(language);

    /// <inheritdoc/>
    public bool Equals(OtherNames? other) => other is not null && All.SequenceEqual(other.All);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as OtherNames);

    /// <inheritdoc/>
    public override int GetHashCode() => All.Aggregate(0, (hash, each) => HashCode.Combine(hash, each.Key, each.Value));
}
