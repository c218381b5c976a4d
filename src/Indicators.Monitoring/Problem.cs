namespace Indicators.Monitoring;

/// <summary>
/// One thing that is wrong, or worth saying, about what somebody gave us: where it stands, what was given and what would
/// be right. A typed fact; the sentence is made in the project's wording.
/// </summary>
/// <param name="Kind">What kind of problem it is; decides which of the members have a value.</param>
/// <param name="File">The file's name without its folder, such as <c>calls.csv</c>; for a folder, its name.</param>
public sealed record Problem(ProblemKind Kind, string File)
{
    /// <summary>The physical line, from 1, on which the row or cell begins; null when the whole file is meant.</summary>
    public int? Line { get; init; }

    /// <summary>The column's heading as the file has it, or the key of a setting; null when the whole row is meant.</summary>
    public string? Column { get; init; }

    /// <summary>The value as it was given, or null.</summary>
    public string? Value { get; init; }

    /// <summary>What the value should have been or refers to, with its article: <c>a call level</c>.</summary>
    public string? Thing { get; init; }

    /// <summary>What would be right, as the end of a sentence: <c>a whole number from 0 to 12</c>.</summary>
    public string? Rule { get; init; }

    /// <summary>The value stored under the same identifier, for a conflict.</summary>
    public string? Stored { get; init; }

    /// <summary>Another file the problem rests on, or null.</summary>
    public string? OtherFile { get; init; }

    /// <summary>Another line the problem rests on, from 1, or null.</summary>
    public int? OtherLine { get; init; }

    /// <summary>How many, where the kind counts something.</summary>
    public int? Count { get; init; }

    /// <summary>The limit of the protocol that was not kept, or null.</summary>
    public ProtocolBreach? Breach { get; init; }

    /// <summary>Names the kind speaks of: columns, or the first few surveys.</summary>
    public IReadOnlyList<string> Names { get; init; } = [];

    /// <summary>The headings that were found instead.</summary>
    public IReadOnlyList<string> Found { get; init; } = [];

    /// <summary>What the problem does to what was given.</summary>
    public ProblemSeverity Severity => Kind.Severity();

    /// <summary>The problem of one value that could not be read.</summary>
    public static Problem OfValue(string file, int line, string column, FieldProblem problem) => new(ProblemKind.Value, file)
    {
        Line = line,
        Column = column,
        Value = problem.Value,
        Thing = problem.Thing,
        Rule = problem.Rule,
    };
}
