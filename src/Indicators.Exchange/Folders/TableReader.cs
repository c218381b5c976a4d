using System.Globalization;
using Indicators.Exchange.Delimited;
using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>Reads one delimited file of an import folder.</summary>
/// <typeparam name="T">What a row says.</typeparam>
/// <param name="layout">The file's columns.</param>
/// <param name="parse">Reads one row, leaving its problems with the fields; null when it is refused.</param>
/// <param name="key">The one or two columns whose values together name a row within the file.</param>
/// <param name="repeated">The kind of problem when two rows have the same name.</param>
internal sealed class TableReader<T>(FileLayout layout, Func<RowFields, T?> parse, IReadOnlyList<string> key, ProblemKind repeated)
    where T : class
{
    private const int RowsBetweenReports = 8192;
    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];
    private static readonly byte[] Delimiters = [(byte)',', (byte)';', (byte)'\t'];

    /// <summary>Reads the file's bytes.</summary>
    /// <param name="name">The file's name as written in the folder.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="progress">Told how many bytes have been read; may be null.</param>
    /// <param name="cancel">Stops the reading.</param>
    public FolderFile<T> Read(string name, byte[] bytes, Action<long>? progress, CancellationToken cancel)
    {
        int start = bytes.AsSpan().StartsWith(ByteOrderMark) ? ByteOrderMark.Length : 0;
        var file = new FolderFile<T> { Name = name, IsPresent = true, Bytes = bytes };
        var (reader, headings) = FindDelimiter(bytes, start, out byte delimiter);
        if (reader is null)
            return file with { Refusal = new Problem(ProblemKind.FileEmpty, name) };
        if (!reader.IsUtf8)
            return file with { Refusal = new Problem(ProblemKind.FileNotUtf8, name) { Line = reader.Line, Count = reader.FirstBadByte().Byte } };
        if (reader.Fault != QuoteFault.None)
            return file with { Refusal = QuoteProblem(name, reader) };

        int headingEnd = headings.EndsWithReason ? reader.LastCellStart - 1 : reader.End;
        file = file with
        {
            Refusal = HeadingProblem(name, headings),
            Headings = headings.ByColumn,
            Notes = headings.Unknown.Count == 0 ? [] : [new Problem(ProblemKind.ColumnsIgnored, name) { Names = headings.Unknown }],
            Written = new DelimitedLayout(delimiter, new RowSource(reader.Line, reader.Start, headingEnd), LineEndingAt(bytes, reader.End)),
        };
        return ReadRows(file, reader, headings, progress, cancel);
    }

    private FolderFile<T> ReadRows(FolderFile<T> file, DelimitedReader reader, HeadingMap headings, Action<long>? progress, CancellationToken cancel)
    {
        bool allUtf8 = System.Text.Unicode.Utf8.IsValid(file.Bytes);
        var fields = new RowFields(file.Name, headings, reader);
        int lines = file.Bytes.AsSpan().Count((byte)'\n') + 1;
        var rows = new List<FolderRow<T>>(lines);
        var names = new List<(string? First, string? Last)>(lines);
        while (reader.Read())
        {
            if (rows.Count % RowsBetweenReports == 0)
            {
                cancel.ThrowIfCancellationRequested();
                progress?.Invoke(reader.Start);
            }
            if (reader.Fault is QuoteFault.NotClosed or QuoteFault.ClosedLate)
                return file with { Refusal = file.Refusal ?? QuoteProblem(file.Name, reader), Written = null };
            if (reader.IsBlank && reader.Fault == QuoteFault.None) continue;

            bool hasReason = headings.EndsWithReason && reader.CellCount == headings.Headings.Count;
            var source = new RowSource(reader.Line, reader.Start, hasReason ? reader.LastCellStart - 1 : reader.End);
            fields.Clear();
            var value = file.Refusal is null ? ReadRow(file.Name, fields, reader, headings, allUtf8) : null;
            rows.Add(new FolderRow<T>(source, fields.Text(key[0]), value, fields.Problems));
            names.Add(NameOf(fields));
        }
        if (fields.EveningsBefore > 0)
            file = file with { Notes = [.. file.Notes, new Problem(ProblemKind.EveningBefore, file.Name) { Count = fields.EveningsBefore }] };
        return file with { Rows = file.Refusal is null ? RefuseRepeated(file.Name, rows, names, headings) : rows };
    }

    private T? ReadRow(string name, RowFields fields, DelimitedReader reader, HeadingMap headings, bool allUtf8)
    {
        if (reader.Fault == QuoteFault.TextAfterQuote)
        {
            fields.Refuse(fields.Here(ProblemKind.TextAfterQuote));
            return null;
        }
        if (!allUtf8 && !reader.IsUtf8)
        {
            var (line, place) = reader.FirstBadByte();
            fields.Refuse(new Problem(ProblemKind.RowNotUtf8, name) { Line = line, Count = place });
            return null;
        }
        int expected = headings.Headings.Count;
        // Someone mending a rejects file may have taken the reasons out and left their heading.
        if (reader.CellCount == expected || (headings.EndsWithReason && reader.CellCount == expected - 1)) return parse(fields);

        fields.Refuse(fields.Here(ProblemKind.CellCount) with { Count = reader.CellCount, Rule = expected.ToString(CultureInfo.InvariantCulture) });
        return null;
    }

    /// <summary>What names the row within the file, as written, whether or not the row can be taken; a part is null when it is empty.</summary>
    private (string? First, string? Last) NameOf(RowFields fields) => (fields.Text(key[0]), fields.Text(key[^1]));

    private List<FolderRow<T>> RefuseRepeated(
        string fileName, List<FolderRow<T>> rows, List<(string? First, string? Last)> names, HeadingMap headings)
    {
        var first = new Dictionary<(string, string), int>(rows.Count);
        var other = new Dictionary<int, int>();
        for (int i = 0; i < rows.Count; i++)
        {
            if (names[i] is not ({ } one, { } last) || first.TryAdd((one, last), i)) continue;
            other[i] = first[(one, last)];
            other.TryAdd(first[(one, last)], i);
        }
        foreach (var (index, otherIndex) in other)
        {
            var row = rows[index];
            var problem = new Problem(repeated, fileName)
            {
                Line = row.Source.Line,
                Column = headings.Find(key[^1])?.Heading,
                Value = names[index].Last,
                OtherLine = rows[otherIndex].Source.Line,
            };
            rows[index] = row with { Value = null, Problems = [.. row.Problems, problem] };
        }
        return rows;
    }

    private (DelimitedReader? Reader, HeadingMap Headings) FindDelimiter(byte[] bytes, int start, out byte delimiter)
    {
        DelimitedReader? best = null;
        var bestHeadings = new HeadingMap(layout, []);
        delimiter = Delimiters[0];
        foreach (byte candidate in Delimiters)
        {
            var reader = new DelimitedReader(bytes, start, candidate);
            bool found = reader.Read();
            while (found && reader.IsBlank && reader.Fault == QuoteFault.None) found = reader.Read();
            if (!found) continue;
            var headings = new HeadingMap(layout, [.. Enumerable.Range(0, reader.CellCount).Select(i => reader.Cell(i).Trim())]);
            if (best is not null && (headings.Recognised, headings.Headings.Count).CompareTo((bestHeadings.Recognised, bestHeadings.Headings.Count)) <= 0)
                continue;
            (best, bestHeadings, delimiter) = (reader, headings, candidate);
        }
        return (best, bestHeadings);
    }

    private static Problem? HeadingProblem(string name, HeadingMap headings)
    {
        if (headings.Missing.Count > 0)
        {
            return new Problem(ProblemKind.ColumnsMissing, name)
            {
                Names = [.. headings.Missing.Select(column => column.ToString())],
                Found = headings.Headings,
            };
        }
        return headings.Repeated is null ? null : new Problem(ProblemKind.ColumnRepeated, name) { Names = headings.Repeated };
    }

    private static Problem QuoteProblem(string name, DelimitedReader reader) =>
        new(reader.Fault == QuoteFault.NotClosed ? ProblemKind.QuoteNotClosed : ProblemKind.QuoteClosedLate, name)
        {
            Line = reader.FaultOpensOn,
            OtherLine = reader.Fault == QuoteFault.NotClosed ? null : reader.FaultShowsOn,
        };

    private static string LineEndingAt(byte[] bytes, int end) => bytes.AsSpan(end) switch
    {
        [(byte)'\r', (byte)'\n', ..] => "\r\n",
        [(byte)'\r', ..] => "\r",
        _ => "\n",
    };
}
