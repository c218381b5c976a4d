using System.Text;
using CsCheck;
using Indicators.Exchange.Delimited;
using nietras.SeparatedValues;
using Xunit;

namespace Indicators.Exchange.Tests.Delimited;

public class DelimitedReaderTests
{
    private static List<(int Line, string[] Cells)> Records(string text, char delimiter = ',')
    {
        var reader = new DelimitedReader(Encoding.UTF8.GetBytes(text), 0, (byte)delimiter);
        var records = new List<(int, string[])>();
        while (reader.Read())
        {
            Assert.Equal(QuoteFault.None, reader.Fault);
            records.Add((reader.Line, [.. Enumerable.Range(0, reader.CellCount).Select(reader.Cell)]));
        }
        return records;
    }

    private static DelimitedReader FirstFault(string text)
    {
        var reader = new DelimitedReader(Encoding.UTF8.GetBytes(text), 0, (byte)',');
        while (reader.Read() && reader.Fault == QuoteFault.None) { }
        return reader;
    }

    [Theory]
    [InlineData("a,b\nc,d")]
    [InlineData("a,b\r\nc,d\r\n")]
    [InlineData("a,b\rc,d\r")]
    public void Lines_end_with_any_of_the_three_endings(string text)
    {
        var records = Records(text);
        Assert.Equal([1, 2], records.Select(r => r.Line));
        Assert.Equal(["c", "d"], records[1].Cells);
    }

    [Fact]
    public void Quoted_cells_hold_delimiters_quotes_and_line_breaks_and_lines_are_physical()
    {
        var records = Records("x,\"one, \"\"two\"\"\r\nthree\nfour\",y\nnext,,\"\"\n");
        Assert.Equal(["x", "one, \"two\"\r\nthree\nfour", "y"], records[0].Cells);
        Assert.Equal(4, records[1].Line);
        Assert.Equal(["next", "", ""], records[1].Cells);
    }

    [Fact]
    public void Quote_inside_a_plain_cell_is_a_mark_like_any_other()
    {
        var records = Records("S1,3\" deep\nS2,4\" deep\nS3,dry");
        Assert.Equal(["3\" deep", "4\" deep", "dry"], records.Select(r => r.Cells[1]));
    }

    [Fact]
    public void Quote_never_closed_names_the_line_it_opens_on()
    {
        var reader = FirstFault("a,b\nc,\"d\ne,f\n");
        Assert.Equal((QuoteFault.NotClosed, 2), (reader.Fault, reader.FaultOpensOn));
    }

    [Fact]
    public void Quote_closed_rows_later_names_both_lines()
    {
        var reader = FirstFault("a,b\nc,\"windy\ne,f\ng,\"rain\"\n");
        Assert.Equal((QuoteFault.ClosedLate, 2, 4), (reader.Fault, reader.FaultOpensOn, reader.FaultShowsOn));
    }

    [Fact]
    public void Text_after_a_quote_closed_on_its_line_spoils_that_record_alone()
    {
        var reader = new DelimitedReader("a,\"b\" c,d\ne,f,g\n"u8.ToArray(), 0, (byte)',');
        Assert.True(reader.Read());
        Assert.Equal((QuoteFault.TextAfterQuote, 0, 9), (reader.Fault, reader.Start, reader.End));
        Assert.True(reader.Read());
        Assert.Equal((QuoteFault.None, "g"), (reader.Fault, reader.Cell(2)));
    }

    [Fact]
    public void First_bad_byte_is_counted_within_its_physical_line()
    {
        byte[] bytes = [.. "x\na,\"é\r\nbc"u8, 0xE9, .. "\",d\n"u8];
        var reader = new DelimitedReader(bytes, 0, (byte)',');
        Assert.True(reader.Read());
        Assert.True(reader.Read());
        Assert.False(reader.IsUtf8);
        Assert.Equal((3, 3), reader.FirstBadByte());
    }

    /// <summary>Sep 0.17.1 reads the same text independently; it takes quotes as we do as long as cells are properly quoted.</summary>
    [Fact]
    public void Records_are_those_an_independent_reader_finds()
    {
        var cell = Gen.OneOf(Gen.String["ab, é;\t\"\n\r1"], Gen.String["abc"], Gen.Const("")).Where(c => c.Length < 12);
        var table = Gen.Select(Gen.Int[2, 5], Gen.OneOf(Gen.Const(','), Gen.Const(';'), Gen.Const('\t')), Gen.OneOf(Gen.Const("\n"), Gen.Const("\r\n")), Gen.Int[1, 8])
            .SelectMany((columns, delimiter, ending, rows) => cell.Array[columns].Array[rows].Select(cells => (cells, delimiter, ending)));
        for (uint number = 0; number < 2000; number++)
        {
            var t = table.Generate(new PCG(number, 99), null, out _);
            string text = "heading" + t.ending + string.Concat(t.cells.Select(row => string.Join(t.delimiter, row.Select(Quote)) + t.ending));
            using var sep = Sep.New(t.delimiter).Reader(o => o with { HasHeader = true, Unescape = true, DisableColCountCheck = true }).FromText(text);
            var expected = new List<(int Line, string[] Cells)>();
            foreach (var row in sep) expected.Add((row.LineNumberFrom, row[..].ToStringsArray()));
            var actual = Records(text, t.delimiter)[1..];
            Assert.Equal(t.cells.Length, actual.Count);
            Assert.Equal(expected.Select(r => r.Line), actual.Select(r => r.Line));
            Assert.Equal(expected.Select(r => r.Cells), actual.Select(r => r.Cells));
        }

        static string Quote(string cell) => $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
