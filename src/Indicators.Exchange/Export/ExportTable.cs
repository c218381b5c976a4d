namespace Indicators.Exchange.Export;

/// <summary>
/// A table to write out: named columns and rows of cells. A cell is text, a whole number, a real number, or null for a
/// value that does not exist.
/// </summary>
/// <param name="Name">What it is a table of; also the name of its file without the ending.</param>
/// <param name="Columns">The columns' names, in order.</param>
/// <param name="Rows">The rows, each as long as <paramref name="Columns"/>; may be a stream that is read once.</param>
public sealed record ExportTable(string Name, IReadOnlyList<string> Columns, IEnumerable<IReadOnlyList<object?>> Rows)
{
    internal static ExportTable Of<T>(string name, IEnumerable<T> results, IReadOnlyList<ExportColumn<T>> columns) => new(
        name,
        [.. columns.Select(column => column.Name)],
        results.Select(result => (IReadOnlyList<object?>)[.. columns.Select(column => column.Value(result))]));
}

/// <summary>One column of a table and what of a result stands in it.</summary>
internal sealed record ExportColumn<T>(string Name, Func<T, object?> Value);
