namespace Indicators.Exchange.Folders;

/// <summary>One column of a file that an import reads.</summary>
/// <param name="Name">Its plain heading.</param>
/// <param name="Term">The Darwin Core term that serves as its heading too, or null.</param>
/// <param name="Required">Whether a file without it cannot be read.</param>
public sealed record Column(string Name, string? Term = null, bool Required = false)
{
    /// <summary>Whether a heading, in any case, means this column.</summary>
    public bool Answers(string heading) =>
        heading.Equals(Name, StringComparison.OrdinalIgnoreCase) || heading.Equals(Term, StringComparison.OrdinalIgnoreCase);

    /// <summary>The plain heading, and the term where there is one, as a sentence names them.</summary>
    public override string ToString() => Term is null ? Name : $"{Name} (or {Term})";
}

/// <summary>One file of an import folder: its name and its columns.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Columns">Its columns, in the order they are documented in.</param>
public sealed record FileLayout(string File, IReadOnlyList<Column> Columns);
