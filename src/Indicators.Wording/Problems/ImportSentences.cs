using System.Globalization;

namespace Indicators.Wording.Problems;

/// <summary>Says what an import did with one file.</summary>
public static class ImportSentences
{
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
