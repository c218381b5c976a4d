using System.Text;
using CsCheck;

namespace Indicators.Application.Tests.Import;

/// <summary>The files of an import folder as lines of cells, to be spoilt in many ways before they are written.</summary>
internal sealed class BrokenFolder(Dictionary<string, List<byte[]>> files, bool keepsRowsApart)
{
    /// <summary>The lines of each file, the heading first.</summary>
    public IReadOnlyDictionary<string, List<byte[]>> Files => files;

    /// <summary>Whether every row is a physical line, so that rows can be counted by counting lines.</summary>
    public bool KeepsRowsApart => keepsRowsApart;

    public void Write(NightFolder folder)
    {
        foreach (var (file, lines) in files) folder.With(file, [.. lines.SelectMany(l => l.Append((byte)'\n'))]);
    }

    public override string ToString() =>
        string.Join('\n', files.Select(f => $"--- {f.Key}\n{string.Join('\n', f.Value.Select(Encoding.Latin1.GetString))}"));
}

/// <summary>Draws good folders and spoils them: wrong values, lost and doubled rows, cells and columns, bad bytes, quotes, missing files.</summary>
internal static class BrokenFolders
{
    private static readonly string[] Names = ["watersheds.csv", "stations.csv", "species.csv", "expected.csv", "surveys.csv", "calls.csv"];
    private static readonly string[] Tokens = ["", " ", "7", "-1", "2024-02-30", "2030-01-01", "ST9", "S99", "PSCR", "S1", "S2", "north", "12,5", "1e400", "99", "\uFFFD", "é"];

    private readonly record struct Fault(int Kind, int File, int Row, int Cell, int Token);

    // Surveys and calls are spoilt more often than the reference files.
    private static readonly Gen<Fault> Faults =
        Gen.Select(Gen.Int[0, 11], Gen.Int[0, 10].Select(i => Math.Min(i, 3) + (i > 3 ? (i - 4) % 2 + 1 : 0)), Gen.Int[0, 40], Gen.Int[0, 12], Gen.Int[0, Tokens.Length - 1])
            .Select(f => new Fault(f.Item1, f.Item2, f.Item3, f.Item4, f.Item5));

    private static readonly Gen<BrokenFolder> Any =
        Faults.Array[0, 6].Select(faults => faults.Aggregate(Good(), Spoil)).Where(folder => folder.Files.Count > 0);

    /// <summary>Tries the first so many of a fixed sequence of folders; a failure shows the folder it happened on.</summary>
    public static void Each(int folders, Action<BrokenFolder> attempt) => Parallel.For(0, folders, number =>
    {
        var broken = Any.Generate(new PCG((uint)number, 99), null, out _);
        try
        {
            attempt(broken);
        }
        catch (Exception failure)
        {
            throw new InvalidOperationException($"Folder {number}: {failure.Message}\n{broken}", failure);
        }
    });

    private static BrokenFolder Good()
    {
        string surveys = NightFolder.Surveys + "S5,ST2,2025-04-22,21:50,5,,,,\nS6,ST3,2025-04-23,22:00,5,A. Nother,10,0,\nS7,ST1,2026-04-20,21:00,5,,7,2,\n";
        string calls = NightFolder.Calls + "S5,LISY,2\nS5,PSCR,3\nS5,ACCR,1\nS7,PSCR,1\n";
        string[] contents = [NightFolder.Watersheds, NightFolder.Stations, NightFolder.Species, NightFolder.Expected, surveys.Replace("\"calm, clear\"", "calm", StringComparison.Ordinal), calls];
        var files = Names.Zip(contents).ToDictionary(f => f.First, f => f.Second.TrimEnd('\n').Split('\n').Select(Encoding.UTF8.GetBytes).ToList(), StringComparer.Ordinal);
        return new BrokenFolder(files, keepsRowsApart: true);
    }

    private static BrokenFolder Spoil(BrokenFolder folder, Fault fault)
    {
        string name = Names[fault.File];
        if (!folder.Files.TryGetValue(name, out var lines) || lines.Count < 2) return folder;
        var files = folder.Files.ToDictionary(f => f.Key, f => f.Value.ToList(), StringComparer.Ordinal);
        lines = files[name];
        int row = 1 + fault.Row % (lines.Count - 1);
        bool apart = folder.KeepsRowsApart;
        switch (fault.Kind)
        {
            case 0 or 1 or 2:
                lines[row] = WithCell(lines[row], fault.Cell, _ => Encoding.UTF8.GetBytes(Tokens[fault.Token]));
                break;
            case 3:
                lines.RemoveAt(row);
                break;
            case 4:
                lines.Insert(1 + fault.Token % lines.Count, lines[row]);
                break;
            case 5:
                lines[row] = [.. lines[row], .. ",more"u8];
                break;
            case 6:
                lines[row] = Encoding.Latin1.GetBytes(Encoding.Latin1.GetString(lines[row]).Split(',')[0]);
                break;
            case 7:
                lines[row] = WithCell(lines[row], fault.Cell, cell => [.. cell, 0xE9]);
                break;
            case 8:
                lines[row] = WithCell(lines[row], fault.Cell, cell => [(byte)'"', .. cell]);
                apart = false;
                break;
            case 9:
                lines.Insert(row, fault.Token % 2 == 0 ? [] : ", ,"u8.ToArray());
                break;
            case 10 when fault.Token < 4:
                files.Remove(name);
                break;
            case 11 when fault.Token < 4:
                lines[0] = WithCell(lines[0], fault.Cell, _ => "colour"u8.ToArray());
                break;
        }
        return new BrokenFolder(files, apart);
    }

    private static byte[] WithCell(byte[] line, int cell, Func<byte[], byte[]> change)
    {
        string[] cells = Encoding.Latin1.GetString(line).Split(',');
        int index = cell % cells.Length;
        cells[index] = Encoding.Latin1.GetString(change(Encoding.Latin1.GetBytes(cells[index])));
        return Encoding.Latin1.GetBytes(string.Join(',', cells));
    }
}
