namespace Indicators.Wording.Messages;

/// <summary>A named value for a message: words, or a whole number, which the language writes its own way and may count by.</summary>
internal readonly record struct Argument(string Name, string? Words, long Number)
{
    public static implicit operator Argument((string Name, string Words) given) => new(given.Name, given.Words, 0);

    public static implicit operator Argument((string Name, int Number) given) => new(given.Name, null, given.Number);

    public static implicit operator Argument((string Name, long Number) given) => new(given.Name, null, given.Number);

    public static implicit operator Argument((string Name, bool Holds) given) => new(given.Name, given.Holds ? "yes" : "no", 0);
}
