using System.Globalization;
using Indicators.Monitoring;

namespace Indicators.Wording.Problems;

/// <summary>Says what an import found and what it did with each file.</summary>
public static class ImportSentences
{
    /// <summary>How many problems are said one by one unless somebody asks for more. Ours: a few screens.</summary>
    public const int MostProblems = 200;

    /// <summary>
    /// The sentences of an import's problems in their order. When there are very many, those that only follow from others
    /// are counted by file instead of said, and the rest is cut after so many.
    /// </summary>
    /// <param name="problems">What the import found, by file and line.</param>
    /// <param name="most">How many to say one by one.</param>
    public static IEnumerable<string> Problems(IReadOnlyList<Problem> problems, int most = MostProblems)
    {
        if (problems.Count <= most) return problems.Select(ProblemSentences.Sentence);
        var own = problems.Where(p => !p.Kind.IsConsequence()).ToList();
        var cut = own.Skip(most).CountBy(p => p.File).Select(f => $"{f.Key}: {Text(f.Value)} more like these.");
        var follow = problems.Where(p => p.Kind.IsConsequence()).CountBy(p => p.File)
            .Select(f => $"{f.Key}: {Text(f.Value)} more {(f.Value == 1 ? "row is" : "rows are")} refused because of rows or files named here.");
        return [.. own.Take(most).Select(ProblemSentences.Sentence), .. cut, .. follow];
    }

    /// <summary>One line: <c>surveys.csv: 120 read; 100 stored, 3 of them in place of others; 15 unchanged; 5 refused.</c></summary>
    /// <param name="file">The file's name.</param>
    /// <param name="read">Rows read.</param>
    /// <param name="stored">Rows stored.</param>
    /// <param name="replaced">How many of these replaced other content.</param>
    /// <param name="unchanged">Rows that were stored already.</param>
    /// <param name="refused">Rows refused.</param>
    /// <param name="notLoaded">Good rows that were not loaded, because others were refused or because this was a check.</param>
    public static string Counts(string file, int read, int stored, int replaced, int unchanged, int refused, int notLoaded)
    {
        var parts = new List<string> { $"{Text(read)} read" };
        if (stored > 0) parts.Add(replaced > 0 ? $"{Text(stored)} stored, {Text(replaced)} of them in place of others" : $"{Text(stored)} stored");
        if (unchanged > 0) parts.Add($"{Text(unchanged)} unchanged");
        if (refused > 0) parts.Add($"{Text(refused)} refused");
        if (notLoaded > 0) parts.Add($"{Text(notLoaded)} good but not loaded");
        return $"{file}: {string.Join("; ", parts)}.";
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
