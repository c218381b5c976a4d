using System.Text;

namespace Indicators.Benchmarks.Coverage;

/// <summary>A table that grows cell by cell: a run that was stopped goes on after the last whole cell.</summary>
internal sealed class StudyFile
{
    private readonly string _path;
    private readonly HashSet<string> _done;

    /// <summary>Opens or begins a table whose first column is the cell.</summary>
    public StudyFile(string path, string heading)
    {
        _path = path;
        if (!File.Exists(path))
            File.WriteAllText(path, heading + "\n", new UTF8Encoding(false));
        else if (File.ReadLines(path).First() != heading)
            throw new InvalidDataException($"{path} has other columns; begin a new file.");
        _done = [.. File.ReadLines(path).Skip(1).Select(line => line[..line.IndexOf(',', StringComparison.Ordinal)])];
    }

    /// <summary>Whether a cell is asked for and not there yet.</summary>
    /// <param name="cell">Its name.</param>
    /// <param name="only">The cells asked for; none for all.</param>
    public bool Wants(string cell, string[] only) => !_done.Contains(cell) && (only.Length == 0 || only.Contains(cell));

    /// <summary>Refuses cells asked for by a name that none has.</summary>
    /// <param name="only">The cells asked for.</param>
    /// <param name="cells">All names.</param>
    /// <param name="log">Where it says so.</param>
    public static bool Knows(string[] only, IEnumerable<string> cells, TextWriter log)
    {
        string[] strangers = [.. only.Except(cells)];
        if (strangers.Length > 0)
            log.WriteLine($"There is no cell \"{string.Join("\", \"", strangers)}\". The cells are: {string.Join(", ", cells.Distinct())}.");
        return strangers.Length == 0;
    }

    /// <summary>Adds a cell's rows at once.</summary>
    public void Add(string cell, IEnumerable<string> rows)
    {
        File.AppendAllText(_path, string.Concat(rows.Select(row => $"{cell},{row}\n")), new UTF8Encoding(false));
        _done.Add(cell);
    }
}
