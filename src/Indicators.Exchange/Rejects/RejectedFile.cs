using Indicators.Exchange.Folders;

namespace Indicators.Exchange.Rejects;

/// <summary>A row that was refused, and why.</summary>
/// <param name="Source">Where it stands in its file.</param>
/// <param name="Reason">Why it was refused, in a sentence or more.</param>
public sealed record RejectedRow(RowSource Source, string Reason);

/// <summary>What is refused of one file.</summary>
/// <param name="Name">The file's name.</param>
/// <param name="Bytes">Its whole content.</param>
/// <param name="Written">How it is written; null when it is GeoJSON or cannot be split into rows.</param>
/// <param name="Rows">The refused rows in the order of the file; of a file refused whole, all of them.</param>
/// <param name="WholeReason">Why the whole file is refused; null when only the rows are.</param>
public sealed record RejectedFile(string Name, byte[] Bytes, DelimitedLayout? Written, IReadOnlyList<RejectedRow> Rows, string? WholeReason);
