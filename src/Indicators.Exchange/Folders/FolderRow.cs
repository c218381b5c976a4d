using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>Where a row stands in its file.</summary>
/// <param name="Line">The physical line it begins on, from 1.</param>
/// <param name="Start">The offset of its first byte in the file.</param>
/// <param name="End">The offset after its last byte; a <c>reason</c> column at the end and the line ending are left out.</param>
public readonly record struct RowSource(int Line, int Start, int End);

/// <summary>One row of a file as it was read.</summary>
/// <typeparam name="T">What the row says when it can be taken.</typeparam>
/// <param name="Source">Where it stands.</param>
/// <param name="Key">The identifier the row gives, trimmed, even when the row is refused; null when it gives none.</param>
/// <param name="Value">What it says; null when the row itself is refused.</param>
/// <param name="Problems">Why the row itself is refused; empty when it is not.</param>
public sealed record FolderRow<T>(RowSource Source, string? Key, T? Value, IReadOnlyList<Problem> Problems)
    where T : class;

/// <summary>One file of an import folder as it was read.</summary>
/// <typeparam name="T">What a row says.</typeparam>
public sealed record FolderFile<T>
    where T : class
{
    /// <summary>The file's name as it is written in the folder, or as it would be when it is missing.</summary>
    public required string Name { get; init; }

    /// <summary>Whether the folder has the file.</summary>
    public bool IsPresent { get; init; }

    /// <summary>Why the whole file is refused; null when it is not.</summary>
    public Problem? Refusal { get; init; }

    /// <summary>Notes about the file as a whole.</summary>
    public IReadOnlyList<Problem> Notes { get; init; } = [];

    /// <summary>The rows in the order of the file. Of a refused file: without values, or none when it cannot be told where rows end.</summary>
    public IReadOnlyList<FolderRow<T>> Rows { get; init; } = [];

    /// <summary>The headings as the file has them, by the plain names of their columns.</summary>
    public IReadOnlyDictionary<string, string> Headings { get; init; } = new Dictionary<string, string>();

    /// <summary>The heading of a column as the file has it; its plain name when the file lacks it.</summary>
    public string HeadingOf(string column) => Headings.GetValueOrDefault(column, column);

    /// <summary>The bytes of the file; null when it is missing.</summary>
    public byte[]? Bytes { get; init; }

    /// <summary>How the delimited file is written; null when it is missing, cannot be split into rows or is not delimited.</summary>
    public DelimitedLayout? Written { get; init; }
}

/// <summary>How a delimited file is written, so that its rows can be handed back unchanged.</summary>
/// <param name="Delimiter">What stands between cells: a comma, a semicolon or a tab.</param>
/// <param name="Heading">Where the heading stands; a last column named <c>reason</c> is left out.</param>
/// <param name="LineEnding">What ends its lines: CR LF, LF or CR; LF when the file is one line.</param>
public sealed record DelimitedLayout(byte Delimiter, RowSource Heading, string LineEnding);
