namespace Indicators.Monitoring;

/// <summary>A kind of thing that people give identifiers to.</summary>
public interface IIdentified
{
    /// <summary>What its identifier is called in a sentence, with the article: <c>a station id</c>.</summary>
    static abstract string IdThing { get; }
}

/// <summary>
/// Identifies one <typeparamref name="T"/> within a programme: 1 to 64 characters, no control characters, no space at
/// either end. Compared and ordered ordinally; leading zeros are kept, for an identifier is text.
/// </summary>
/// <typeparam name="T">What is identified, so that a station's identifier never passes for a species'.</typeparam>
public readonly record struct Id<T> : IComparable<Id<T>>
    where T : IIdentified
{
    /// <summary>The most characters of an identifier.</summary>
    public const int MaximumLength = 64;

    private readonly string? _text;
    private Id(string text) => _text = text;

    /// <summary>Reads an identifier, trimming space at both ends.</summary>
    public static Parsed<Id<T>> Parse(string text)
    {
        string trimmed = text.Trim();
        bool valid = trimmed.Length is > 0 and <= MaximumLength && !trimmed.Any(char.IsControl) && !trimmed.Contains('\uFFFD');
        return valid ? new Id<T>(trimmed) : new FieldProblem(text, T.IdThing, $"1 to {MaximumLength} letters, digits or signs");
    }

    /// <inheritdoc/>
    public int CompareTo(Id<T> other) => string.CompareOrdinal(_text, other._text);

    /// <summary>The identifier's text.</summary>
    public override string ToString() => _text ?? "";
}
