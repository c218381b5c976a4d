using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Exchange.Folders;
using Indicators.Exchange.Settings;
using Xunit;

namespace Indicators.Exchange.Tests;

/// <summary>docs/import-folder.md names exactly the columns and keys that are read.</summary>
public class ImportDocumentTests
{
    private static readonly string[] Lines = File.ReadAllLines(Find());

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Indicators.sln"))) folder = folder.Parent!;
        return Path.Combine(folder.FullName, "docs", "import-folder.md");
    }

    private static List<string[]> TableUnder(string heading) =>
    [
        .. Lines.SkipWhile(l => l != $"## {heading}").Skip(1).TakeWhile(l => !l.StartsWith("## ", StringComparison.Ordinal))
            .Where(l => l.StartsWith("| ", StringComparison.Ordinal)).Skip(1)
            .Select(l => l.Split('|')[1..^1].Select(c => c.Trim()).ToArray()),
    ];

    public static TheoryData<string> Files => [.. FolderLayout.Delimited.Select(l => l.File)];

    [Theory]
    [MemberData(nameof(Files))]
    public void Columns_of_a_file_are_documented_with_their_terms(string file)
    {
        var layout = FolderLayout.Delimited.Single(l => l.File == file);
        Assert.Equal(
            layout.Columns.Select(c => (c.Required ? $"**{c.Name}**" : c.Name, c.Term ?? "")),
            TableUnder(file).Select(r => (r[0], r[1])));
    }

    [Fact]
    public void Keys_of_the_settings_are_documented()
    {
        using var json = JsonDocument.Parse(SettingsJson.Write(new ProgrammeSettings()));
        Assert.Equal(Keys(json.RootElement, ""), TableUnder("Settings").Select(r => r[0]));

        // A limit is one key: its value and source are explained below the table.
        static IEnumerable<string> Keys(JsonElement node, string path) => node.ValueKind == JsonValueKind.Object && !node.TryGetProperty("source", out _)
            ? node.EnumerateObject().SelectMany(m => Keys(m.Value, path.Length == 0 ? m.Name : $"{path}.{m.Name}"))
            : [path];
    }
}
