using System.Globalization;
using Indicators.Exchange.Delimited;
using Indicators.Monitoring;

namespace Indicators.Exchange.Folders;

/// <summary>Where the columns of a layout stand in one file.</summary>
internal sealed class HeadingMap
{
    private readonly Dictionary<string, (int Index, string Heading)> _places = new(StringComparer.Ordinal);

    public HeadingMap(FileLayout layout, IReadOnlyList<string> headings)
    {
        Headings = headings;
        for (int i = 0; i < headings.Count; i++)
        {
            string heading = headings[i];
            if (layout.Columns.FirstOrDefault(c => c.Answers(heading)) is { } column)
            {
                string name = column.KnownBy(heading);
                if (!_places.TryAdd(name, (i, heading)) && Repeated is null)
                    Repeated = [_places[name].Heading, heading];
            }
            else if (heading.Length > 0 && !heading.Equals(FolderLayout.ReasonColumn, StringComparison.OrdinalIgnoreCase))
            {
                Unknown.Add(heading);
            }
        }
        Missing = [.. layout.Columns.Where(c => c.Required && !_places.ContainsKey(c.Name))];
    }

    public IReadOnlyList<string> Headings { get; }

    public IReadOnlyList<string>? Repeated { get; }

    public List<string> Unknown { get; } = [];

    public IReadOnlyList<Column> Missing { get; }

    public int Recognised => _places.Count;

    /// <summary>The headings as written, by column.</summary>
    public Dictionary<string, string> ByColumn => _places.ToDictionary(p => p.Key, p => p.Value.Heading, StringComparer.Ordinal);

    public bool EndsWithReason =>
        Headings.Count > 1 && Headings[^1].Equals(FolderLayout.ReasonColumn, StringComparison.OrdinalIgnoreCase);

    /// <summary>The columns there are of one that stands for a column a language.</summary>
    public IEnumerable<string> Languages(string column) => _places.Keys.Where(name => name.StartsWith(column, StringComparison.Ordinal));

    public (int Index, string Heading)? Find(string column) => _places.TryGetValue(column, out var place) ? place : null;
}

/// <summary>
/// The cells of one record by column, while it is read: gives values, and collects what is wrong with them.
/// </summary>
internal sealed class RowFields(string file, HeadingMap headings, DelimitedReader reader)
{
    private List<Problem>? _problems;

    /// <summary>How many rows so far were events given to the evening before.</summary>
    public int EveningsBefore { get; set; }

    public IReadOnlyList<Problem> Problems => _problems ?? (IReadOnlyList<Problem>)[];

    public bool IsRefused => _problems is not null;

    /// <summary>Begins the next record.</summary>
    public void Clear() => _problems = null;

    /// <summary>The heading of a column as the file has it, or the plain one when the file lacks it.</summary>
    public string Heading(string column) => headings.Find(column)?.Heading ?? column;

    /// <summary>The cell as it is written; empty when the file lacks the column.</summary>
    public string Raw(string column) => headings.Find(column) is { } place && place.Index < reader.CellCount ? reader.Cell(place.Index) : "";

    /// <summary>The cell without space at its ends, or null when it is empty.</summary>
    public string? Text(string column) => Raw(column).Trim() is { Length: > 0 } text ? text : null;

    /// <summary>The texts of a column that stands for one a language, by language; empty cells are left out.</summary>
    public IEnumerable<KeyValuePair<string, string>> ByLanguage(string column) => headings.Languages(column)
        .Where(name => Text(name) is not null).Select(name => KeyValuePair.Create(name[column.Length..], Text(name)!));

    /// <summary>The cell's text; a problem when it is empty.</summary>
    public string? RequiredText(string column, string thing, string rule)
    {
        string? text = Text(column);
        if (text is null) Refuse(column, new FieldProblem("", thing, rule));
        return text;
    }

    /// <summary>The cell's value; a problem when it is empty or wrong.</summary>
    public T? Required<T>(string column, Func<string, Parsed<T>> parse)
        where T : struct
    {
        string raw = Raw(column);
        var parsed = parse(string.IsNullOrWhiteSpace(raw) ? "" : raw);
        if (parsed.IsValid) return parsed.Value;
        Refuse(column, parsed.Problem);
        return null;
    }

    /// <summary>The cell's value, null when it is empty; a problem when it is wrong.</summary>
    public T? Optional<T>(string column, Func<string, Parsed<T>> parse)
        where T : struct => Text(column) is null ? null : Required(column, parse);

    /// <summary>A number between two limits, both included.</summary>
    public double? Number(string column, string thing, double least, double most, string rule) =>
        Optional<double>(column, text =>
            double.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && number >= least && number <= most
                ? number
                : new FieldProblem(text, thing, rule));

    /// <summary>A whole number between two limits, both included.</summary>
    public int? Whole(string column, string thing, int least, int most, string rule) =>
        Optional<int>(column, text =>
            int.TryParse(text.Trim(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int number) && number >= least && number <= most
                ? number
                : new FieldProblem(text, thing, rule));

    public void Refuse(string column, FieldProblem problem) => Refuse(Problem.OfValue(file, reader.Line, Heading(column), problem));

    public void Refuse(Problem problem) => (_problems ??= []).Add(problem);

    /// <summary>A problem of a kind at this record.</summary>
    public Problem Here(ProblemKind kind) => new(kind, file) { Line = reader.Line };
}
