using System.Text;
using System.Text.Json.Nodes;
using Indicators.Exchange.Folders;
using Indicators.Monitoring;

namespace Indicators.Exchange.Rejects;

/// <summary>
/// The folder that refused rows go to: files of the same names, headings and delimiters, each row with its original bytes
/// and the reason appended, ready to be mended and read again. A file that cannot be split into rows is copied as it is,
/// with the reason in a text file beside it.
/// </summary>
public static class RejectsFolder
{
    private const string ReasonFileEnding = ".reason.txt";
    private const string ShapesOpening = """{"type":"FeatureCollection","rejected":true,"features":[""";
    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];

    /// <summary>Where the rejects of a folder go unless somebody says otherwise: beside it.</summary>
    public static string BesideOf(string folder) => Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder)) + "-rejects";

    /// <summary>
    /// Why rejects must not go to this folder, or null when they may: it must not be the folder that is read nor lie in
    /// it, and must hold no file of the same names that an import did not write.
    /// </summary>
    public static Problem? Check(string rejects, string folder)
    {
        string inside = Path.GetRelativePath(Path.GetFullPath(folder), Path.GetFullPath(rejects));
        if (inside == "." || !(inside == ".." || inside.StartsWith(".." + Path.DirectorySeparatorChar, StringComparison.Ordinal) || Path.IsPathRooted(inside)))
            return new Problem(ProblemKind.RejectsInsideFolder, NameOf(rejects)) { Value = rejects };
        try
        {
            string? foreign = FilesOfOurNames(rejects).FirstOrDefault(path => !IsOurs(path));
            return foreign is null ? null : new Problem(ProblemKind.RejectsFileNotOurs, Path.GetFileName(foreign)) { Value = foreign };
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            return new Problem(ProblemKind.RejectsNotWritten, NameOf(rejects)) { Value = error.Message };
        }
    }

    /// <summary>
    /// Replaces what an earlier import wrote to the folder by these files; with none, an empty folder is removed too.
    /// Call <see cref="Check"/> first. Null when it went well.
    /// </summary>
    public static Problem? Replace(string rejects, IReadOnlyList<RejectedFile> files)
    {
        try
        {
            foreach (string old in FilesOfOurNames(rejects).Where(IsOurs).ToList())
            {
                File.Delete(old);
                File.Delete(old + ReasonFileEnding);
            }
            if (files.Count > 0) Directory.CreateDirectory(rejects);
            foreach (var file in files) Write(rejects, file);
            if (files.Count == 0 && Directory.Exists(rejects) && !Directory.EnumerateFileSystemEntries(rejects).Any()) Directory.Delete(rejects);
            return null;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            return new Problem(ProblemKind.RejectsNotWritten, NameOf(rejects)) { Value = error.Message };
        }
    }

    private static string NameOf(string path) => Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(path)));

    private static IEnumerable<string> FilesOfOurNames(string rejects) =>
        Directory.Exists(rejects)
            ? Directory.EnumerateFiles(rejects).Where(path => FolderLayout.Files.Contains(Path.GetFileName(path), StringComparer.OrdinalIgnoreCase))
            : [];

    private static bool IsOurs(string path)
    {
        if (File.Exists(path + ReasonFileEnding)) return true;
        string heading = File.ReadLines(path).FirstOrDefault() ?? "";
        return heading.StartsWith(ShapesOpening, StringComparison.Ordinal)
            || heading.Split(',', ';', '\t')[^1].Trim(' ', '"').Equals(FolderLayout.ReasonColumn, StringComparison.OrdinalIgnoreCase);
    }

    private static void Write(string rejects, RejectedFile file)
    {
        string path = Path.Combine(rejects, file.Name);
        if (file.Rows.Count == 0 || (file.Written is null && file.WholeReason is not null))
        {
            File.WriteAllBytes(path, file.Bytes);
            File.WriteAllText(path + ReasonFileEnding, file.WholeReason + "\n");
        }
        else
        {
            File.WriteAllBytes(path, file.Written is null ? Shapes(file) : Rows(file, file.Written));
        }
    }

    private static byte[] Rows(RejectedFile file, DelimitedLayout written)
    {
        byte[] lineEnding = Encoding.UTF8.GetBytes(written.LineEnding);
        using var content = new MemoryStream();
        if (file.Bytes.AsSpan().StartsWith(ByteOrderMark)) content.Write(ByteOrderMark);
        Row(written.Heading, FolderLayout.ReasonColumn);
        foreach (var row in file.Rows) Row(row.Source, $"\"{row.Reason.Replace("\"", "\"\"", StringComparison.Ordinal)}\"");
        return content.ToArray();

        void Row(RowSource source, string last)
        {
            content.Write(file.Bytes.AsSpan(source.Start, source.End - source.Start));
            content.WriteByte(written.Delimiter);
            content.Write(Encoding.UTF8.GetBytes(last));
            content.Write(lineEnding);
        }
    }

    private static byte[] Shapes(RejectedFile file)
    {
        // Put together as text: what cannot be taken may not survive being read and written as JSON either.
        var features = file.Rows.Select(row =>
        {
            string feature = Encoding.UTF8.GetString(file.Bytes, row.Source.Start, row.Source.End - row.Source.Start);
            string reason = $"{{\"{FolderLayout.ReasonColumn}\":{JsonValue.Create(row.Reason).ToJsonString()}";
            if (!feature.StartsWith('{')) return $"{reason},\"given\":{feature}}}";
            string members = feature[1..].TrimStart();
            return members.StartsWith('}') ? reason + members : $"{reason},{members}";
        });
        return Encoding.UTF8.GetBytes(ShapesOpening + "\n" + string.Join(",\n", features) + "\n]}\n");
    }
}
