using System.Diagnostics.CodeAnalysis;

namespace Indicators.Monitoring;

/// <summary>What is wrong with a value somebody gave us, and what would be right.</summary>
/// <param name="Value">The text as it was given, never trimmed away.</param>
/// <param name="Thing">What the value should have been, with its article: <c>a call level</c>.</param>
/// <param name="Rule">What would be right, as the end of a sentence: <c>a whole number from 0 to 3</c>.</param>
public sealed record FieldProblem(string Value, string Thing, string Rule)
{
    /// <summary>One plain English sentence, ready to read.</summary>
    public string Sentence => Value.Length == 0
        ? $"{char.ToUpperInvariant(Thing[0])}{Thing[1..]} is missing: give {Rule}."
        : $"'{Value}' is not {Thing}: give {Rule}.";
}

/// <summary>Either a valid value or the sentence that says why there is none. Errors of the user are results, not exceptions.</summary>
/// <typeparam name="T">The type of the value when it is valid.</typeparam>
public readonly struct Parsed<T>
{
    private readonly T? _value;

    private Parsed(T? value, FieldProblem? problem)
    {
        _value = value;
        Problem = problem;
    }

    /// <summary>What is wrong, or null when the value is valid.</summary>
    public FieldProblem? Problem { get; }

    /// <summary>Whether there is a value.</summary>
    [MemberNotNullWhen(false, nameof(Problem))]
    public bool IsValid => Problem is null;

    /// <summary>The valid value.</summary>
    /// <exception cref="InvalidOperationException">There is none; look at <see cref="IsValid"/> first.</exception>
    public T Value => IsValid ? _value! : throw new InvalidOperationException(Problem.Sentence);

    /// <summary>A valid result.</summary>
    public static implicit operator Parsed<T>(T value) => new(value, null);

    /// <summary>A refused result.</summary>
    public static implicit operator Parsed<T>(FieldProblem problem) => new(default, problem);
}
