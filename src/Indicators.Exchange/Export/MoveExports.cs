using Indicators.Analysis.Results;

namespace Indicators.Exchange.Export;

/// <summary>A result with its range and its word, as two editions are set side by side by it.</summary>
/// <param name="Value">The score in points, or the change in percent each season.</param>
/// <param name="Lower">The lower end of its range.</param>
/// <param name="Upper">The upper end.</param>
/// <param name="Word">The code of its class or direction.</param>
public sealed record MovedValue(double? Value, double? Lower, double? Upper, string? Word);

/// <summary>What moved of one result, as a whole or by one cause.</summary>
/// <param name="Area">The area's code.</param>
/// <param name="Species">The species, or null for a score.</param>
/// <param name="Causes">The cause; <see cref="EditionCauses.None"/> for all together.</param>
/// <param name="Before">Before; null where there was no result.</param>
/// <param name="After">After.</param>
public sealed record MoveRow(string Area, string? Species, EditionCauses Causes, MovedValue? Before, MovedValue? After);

/// <summary>The table of what moved between two editions.</summary>
public static class MoveExports
{
    /// <summary>One row a result that moved, and one more for each cause where it was found out what each moved.</summary>
    /// <param name="from">The earlier edition.</param>
    /// <param name="to">The later one.</param>
    /// <param name="rows">The rows.</param>
    public static ExportTable Moves(long? from, long to, IEnumerable<MoveRow> rows) => ExportTable.Of("moves", rows,
    [
        new("from_edition", _ => (int?)from),
        new("to_edition", _ => (int)to),
        new("watershed_code", row => row.Area),
        new("species_id", row => row.Species),
        new("measure", row => row.Species is null ? "score" : "percent_per_season"),
        new("cause", row => Cause(row.Causes)),
        new("before", row => row.Before?.Value),
        new("lower_before", row => row.Before?.Lower),
        new("upper_before", row => row.Before?.Upper),
        new("word_before", row => row.Before?.Word),
        new("after", row => row.After?.Value),
        new("lower_after", row => row.After?.Lower),
        new("upper_after", row => row.After?.Upper),
        new("word_after", row => row.After?.Word),
    ]);

    private static string Cause(EditionCauses causes) => causes == EditionCauses.None
        ? "all" : string.Join('+', Enum.GetValues<EditionCauses>().Where(each => each != EditionCauses.None && causes.HasFlag(each)).Select(ResultCode.Of));
}
