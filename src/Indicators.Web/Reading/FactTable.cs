namespace Indicators.Web.Reading;

/// <summary>A column of a table; numbers stand to the right.</summary>
internal sealed record FactColumn(string Name, bool IsNumber = false);

/// <summary>A row: what it is about, where more of that is, and its cells.</summary>
internal sealed record FactRow(string Name, IReadOnlyList<string> Cells, string? Href = null);

/// <summary>A plain table, open or behind a summary.</summary>
/// <param name="Caption">What it holds.</param>
/// <param name="Columns">Its columns, the one of the rows' names first.</param>
/// <param name="Rows">Its rows.</param>
/// <param name="Summary">What opens it; null when it is open.</param>
internal sealed record FactTable(string Caption, IReadOnlyList<FactColumn> Columns, IReadOnlyList<FactRow> Rows, string? Summary = null);
