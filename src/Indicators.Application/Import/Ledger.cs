using Indicators.Exchange.Folders;
using Indicators.Exchange.Rejects;
using Indicators.Monitoring;
using Indicators.Wording.Problems;

namespace Indicators.Application.Import;

/// <summary>What is to become of a row.</summary>
internal enum RowFate
{
    Refused,
    New,
    Replacing,
    Unchanged,
}

/// <summary>One file of the folder while it is checked: keeps what is to become of each row, and why.</summary>
/// <typeparam name="T">What a row says.</typeparam>
internal sealed class Ledger<T> : ILedger
    where T : class
{
    private readonly FolderFile<T> _file;
    private readonly List<Problem>?[] _refusals;
    private readonly RowFate[] _fates;
    private readonly Dictionary<string, int> _rowOfKey = new(StringComparer.Ordinal);

    public Ledger(FolderFile<T> file)
    {
        _file = file;
        _refusals = new List<Problem>?[file.Rows.Count];
        _fates = new RowFate[file.Rows.Count];
        for (int i = 0; i < file.Rows.Count; i++)
        {
            var row = file.Rows[i];
            if (row.Key is not null) _rowOfKey.TryAdd(row.Key, i);
            if (row.Value is not null)
                _fates[i] = RowFate.New;
            else if (file.Refusal is null)
                _refusals[i] = [.. row.Problems];
        }
    }

    public string File => _file.Name;

    public bool IsPresent => _file.IsPresent;

    public bool IsFileRefused => _file.Refusal is not null;

    public IReadOnlyList<FolderRow<T>> Rows => _file.Rows;

    public string HeadingOf(string column) => _file.HeadingOf(column);

    public int LineOf(int row) => _file.Rows[row].Source.Line;

    /// <summary>The first row that gives this identifier, refused or not.</summary>
    public int? Find(string key) => _rowOfKey.TryGetValue(key, out int row) ? row : null;

    public bool IsRefused(int row) => _fates[row] == RowFate.Refused;

    public RowFate FateOf(int row) => _fates[row];

    public void Settle(int row, RowFate fate) => _fates[row] = fate;

    /// <summary>A problem of a kind at a row; with a column, the heading as the file has it.</summary>
    public Problem At(int row, ProblemKind kind, string? column = null) =>
        new(kind, File) { Line = LineOf(row), Column = column is null ? null : HeadingOf(column) };

    public void Refuse(int row, Problem problem)
    {
        _fates[row] = RowFate.Refused;
        (_refusals[row] ??= []).Add(problem);
    }

    /// <summary>The rows that are not refused, by their place.</summary>
    public IEnumerable<(int Row, T Value)> Taken()
    {
        for (int i = 0; i < _fates.Length; i++)
        {
            if (_fates[i] != RowFate.Refused) yield return (i, _file.Rows[i].Value!);
        }
    }

    /// <summary>What the rows say that are to be stored.</summary>
    public IEnumerable<T> ToStore() => Taken().Where(t => _fates[t.Row] != RowFate.Unchanged).Select(t => t.Value);

    public bool HasRefusals => IsFileRefused || _fates.AsSpan().Contains(RowFate.Refused);

    public IEnumerable<Problem> Problems()
    {
        IEnumerable<Problem> whole = _file.Refusal is null ? [] : [_file.Refusal];
        return whole.Concat(_file.Notes).Concat(_refusals.Where(r => r is not null).SelectMany(r => r!));
    }

    public FileCounts Count(bool loaded)
    {
        int Of(RowFate fate) => _fates.AsSpan().Count(fate);
        int toStore = Of(RowFate.New) + Of(RowFate.Replacing);
        return new FileCounts(
            File,
            Read: _fates.Length,
            Stored: loaded ? toStore : 0,
            Replaced: loaded ? Of(RowFate.Replacing) : 0,
            Unchanged: Of(RowFate.Unchanged),
            Refused: Of(RowFate.Refused),
            NotLoaded: loaded ? 0 : toStore);
    }

    public RejectedFile? Rejected()
    {
        if (!HasRefusals) return null;
        string? whole = _file.Refusal is null ? null : ProblemSentences.Sentence(_file.Refusal);
        var rows = new List<RejectedRow>();
        for (int i = 0; i < _fates.Length; i++)
        {
            if (_fates[i] != RowFate.Refused) continue;
            rows.Add(new RejectedRow(_file.Rows[i].Source, whole ?? string.Join(' ', _refusals[i]!.Select(ProblemSentences.Reason))));
        }
        return new RejectedFile(File, _file.Bytes!, _file.Written, rows, whole);
    }
}

/// <summary>What the report and the rejects need of a ledger, whatever its rows say.</summary>
internal interface ILedger
{
    string File { get; }

    bool IsPresent { get; }

    bool HasRefusals { get; }

    IEnumerable<Problem> Problems();

    FileCounts Count(bool loaded);

    RejectedFile? Rejected();
}

/// <summary>Something rows refer to: the rows of a file, or what is stored already.</summary>
/// <param name="thing">What it is called in a sentence.</param>
/// <param name="ledger">The file that would define it.</param>
/// <param name="isStored">Whether it is stored.</param>
internal sealed class ReferenceTarget<T>(string thing, Ledger<T> ledger, Func<string, bool> isStored)
    where T : class
{
    /// <summary>What is wrong with referring to this identifier from there, or null when all is well. A refused row leaves a stored one usable.</summary>
    public Problem? Refusal(string id, Func<ProblemKind, Problem> at)
    {
        int? row = ledger.IsFileRefused ? null : ledger.Find(id);
        if ((row is { } taken && !ledger.IsRefused(taken)) || isStored(id)) return null;
        var kind = row is not null ? ProblemKind.ReferenceRefused
            : ledger.IsFileRefused ? ProblemKind.ReferenceFileRefused
            : ProblemKind.ReferenceUnknown;
        return at(kind) with { Value = id, Thing = thing, OtherFile = ledger.File, OtherLine = row is { } r ? ledger.LineOf(r) : null };
    }
}
