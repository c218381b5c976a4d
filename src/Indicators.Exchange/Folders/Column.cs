using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>One column of a file that an import reads.</summary>
/// <param name="Name">Its plain heading.</param>
/// <param name="Term">The Darwin Core term that serves as its heading too, or null.</param>
/// <param name="Required">Whether a file without it cannot be read.</param>
/// <param name="ByLanguage">Whether it stands for one column a language, whose headings go on with the subtag of a language.</param>
public sealed record Column(string Name, string? Term = null, bool Required = false, bool ByLanguage = false)
{
    /// <summary>Whether a heading, in any case, means this column.</summary>
    public bool Answers(string heading) => ByLanguage
        ? heading.StartsWith(Name, StringComparison.OrdinalIgnoreCase) && OtherNames.IsLanguage(heading[Name.Length..].ToLowerInvariant())
        : heading.Equals(Name, StringComparison.OrdinalIgnoreCase) || heading.Equals(Term, StringComparison.OrdinalIgnoreCase);

    /// <summary>What the column of a heading is known by: its plain heading, with the language in small letters.</summary>
    public string KnownBy(string heading) => ByLanguage ? heading.ToLowerInvariant() : Name;

    /// <summary>The plain heading, and the term where there is one, as a sentence names them.</summary>
    public override string ToString() => Term is null ? Name : $"{Name} (or {Term})";
}

/// <summary>One file of an import folder: its name and its columns.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Columns">Its columns, in the order they are documented in.</param>
public sealed record FileLayout(string File, IReadOnlyList<Column> Columns);
