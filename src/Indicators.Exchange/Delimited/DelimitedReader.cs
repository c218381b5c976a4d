using System.Text;
using System.Text.Unicode;

namespace Indicators.Exchange.Delimited;

/// <summary>What is wrong with the quotes of a record.</summary>
internal enum QuoteFault
{
    None,

    /// <summary>The file ends inside a quoted cell, so where the rows end is anybody's guess from there on.</summary>
    NotClosed,

    /// <summary>Text follows a closing quote on the line the quote opened on; the record ends with the line.</summary>
    TextAfterQuote,

    /// <summary>Text follows a closing quote lines after it opened: rows in between may have been swallowed.</summary>
    ClosedLate,
}

/// <summary>
/// Walks over the records of delimited text (RFC 4180, with any one-byte delimiter) as bytes, so that every record keeps
/// its physical line and its original bytes even where these are not UTF-8.
/// </summary>
/// <remarks>
/// A quote opens a quoted cell only as a cell's first byte, as RFC 4180 has it; elsewhere it is a mark like any other (a
/// note of <c>3" deep</c>). A reader that toggles at every quote would join that row and the rows after it into one, and
/// nobody would miss them. Lines end with CR LF, LF or CR.
/// </remarks>
internal sealed class DelimitedReader(byte[] bytes, int start, byte delimiter)
{
    private const byte Quote = (byte)'"';
    private const byte Cr = (byte)'\r';
    private const byte Lf = (byte)'\n';
    private const int LongestShared = 64;

    private readonly List<(int Start, int End, bool Quoted)> _cells = [];
    private readonly string?[] _recent = new string?[4096];
    private int _position = start;
    private int _line = 1;

    /// <summary>The physical line the record begins on, from 1.</summary>
    public int Line { get; private set; }

    /// <summary>The offset of the record's first byte.</summary>
    public int Start { get; private set; }

    /// <summary>The offset after the record's last byte, its line ending left out.</summary>
    public int End { get; private set; }

    /// <summary>How many cells the record has.</summary>
    public int CellCount => _cells.Count;

    /// <summary>What is wrong with its quotes.</summary>
    public QuoteFault Fault { get; private set; }

    /// <summary>The line on which the faulty cell opens.</summary>
    public int FaultOpensOn { get; private set; }

    /// <summary>The line on which the fault shows.</summary>
    public int FaultShowsOn { get; private set; }

    /// <summary>Whether every cell is empty or blank: a line without data.</summary>
    public bool IsBlank => _cells.TrueForAll(c => bytes.AsSpan(c.Start, c.End - c.Start).IndexOfAnyExcept((byte)' ', (byte)'\t') < 0);

    /// <summary>Whether all bytes of the record are UTF-8.</summary>
    public bool IsUtf8 => Utf8.IsValid(bytes.AsSpan(Start, End - Start));

    /// <summary>Where the last cell begins, its quote included.</summary>
    public int LastCellStart { get; private set; }

    /// <summary>Moves to the next record; false at the end of the text.</summary>
    public bool Read()
    {
        _cells.Clear();
        Fault = QuoteFault.None;
        if (_position >= bytes.Length) return false;
        Start = _position;
        Line = _line;
        while (true)
        {
            LastCellStart = _position;
            int end = _position < bytes.Length && bytes[_position] == Quote ? ReadQuoted() : ReadPlain();
            if (Fault == QuoteFault.NotClosed || end == bytes.Length)
            {
                End = _position = bytes.Length;
                return true;
            }
            if (bytes[end] == delimiter && Fault == QuoteFault.None)
            {
                _position = end + 1;
                continue;
            }
            End = end;
            _position = AfterLineEnd(end);
            return true;
        }
    }

    /// <summary>The text of one cell without its quotes. Bytes that are not UTF-8 come as U+FFFD.</summary>
    public string Cell(int index)
    {
        var (cellStart, cellEnd, quoted) = _cells[index];
        string text = Text(bytes.AsSpan(cellStart, cellEnd - cellStart));
        return quoted ? text.Replace("\"\"", "\"", StringComparison.Ordinal) : text;
    }

    /// <summary>The text of a cell; of a short one that stood in a recent cell too the same string, for files repeat themselves.</summary>
    private string Text(ReadOnlySpan<byte> cell)
    {
        if (cell.Length > LongestShared)
            return Encoding.UTF8.GetString(cell);
        uint hash = 2166136261;
        foreach (byte each in cell)
            hash = (hash ^ each) * 16777619;
        ref string? recent = ref _recent[(hash ^ (hash >> 15)) % (uint)_recent.Length];
        return recent is not null && Ascii.Equals(cell, recent) ? recent : recent = Encoding.UTF8.GetString(cell);
    }

    /// <summary>The first byte of the record that is not UTF-8: its line, and its place in that line from 1.</summary>
    public (int Line, int Byte) FirstBadByte()
    {
        int line = Line;
        int lineStart = Start;
        int at = Start;
        while (at < End && Rune.DecodeFromUtf8(bytes.AsSpan(at, End - at), out _, out int length) == System.Buffers.OperationStatus.Done)
        {
            bool lineEnds = bytes[at] == Lf || (bytes[at] == Cr && (at + 1 == End || bytes[at + 1] != Lf));
            at += length;
            if (!lineEnds) continue;
            line++;
            lineStart = at;
        }
        return (line, at - lineStart + 1);
    }

    private int ReadPlain()
    {
        int found = bytes.AsSpan(_position).IndexOfAny(delimiter, Cr, Lf);
        int end = found < 0 ? bytes.Length : _position + found;
        _cells.Add((_position, end, false));
        return end;
    }

    private int ReadQuoted()
    {
        int opensOn = _line;
        int at = _position + 1;
        while (true)
        {
            int found = bytes.AsSpan(at).IndexOfAny(Quote, Cr, Lf);
            if (found < 0)
            {
                SetFault(QuoteFault.NotClosed, opensOn);
                return bytes.Length;
            }
            at += found;
            if (bytes[at] != Quote)
                at = AfterLineEnd(at);
            else if (at + 1 < bytes.Length && bytes[at + 1] == Quote)
                at += 2;
            else
                break;
        }
        _cells.Add((_position + 1, at, true));
        at++;
        while (at < bytes.Length && bytes[at] == (byte)' ') at++;
        if (at == bytes.Length || bytes[at] == delimiter || bytes[at] is Cr or Lf) return at;

        SetFault(opensOn == _line ? QuoteFault.TextAfterQuote : QuoteFault.ClosedLate, opensOn);
        int lineEnd = bytes.AsSpan(at).IndexOfAny(Cr, Lf);
        return lineEnd < 0 ? bytes.Length : at + lineEnd;
    }

    private void SetFault(QuoteFault fault, int opensOn)
    {
        Fault = fault;
        FaultOpensOn = opensOn;
        FaultShowsOn = _line;
    }

    private int AfterLineEnd(int at)
    {
        _line++;
        return bytes[at] == Cr && at + 1 < bytes.Length && bytes[at + 1] == Lf ? at + 2 : at + 1;
    }
}
