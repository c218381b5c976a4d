using System.Text.RegularExpressions;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>Rules about the text of files. Every pattern is first shown to find what it looks for.</summary>
public sealed partial class SourceTests
{
    private static readonly string[] TextFiles =
        [".cs", ".cshtml", ".csproj", ".props", ".targets", ".json", ".md", ".sql", ".css", ".js", ".sh", ".R", ".py", ".c", ".csv", ".txt", ".yml", ".sln", ".geojson", ""];

    [Fact]
    public void No_source_file_is_longer_than_the_limit()
    {
        var limit = House.LongFiles.Select(exception => exception.File).ToHashSet();
        var files = CodeFolders.SelectMany(folder => House.Files(Path.Combine(House.Root, folder), [".cs", ".cshtml"])).ToList();

        Assert.True(files.Count > 4 * House.Rooms.Count);
        Nothing.In(files.Where(file => File.ReadLines(file).Count() > House.LongestFile).Select(House.Shown).Except(limit));
    }

    [Fact]
    public void Every_exception_to_the_longest_file_is_still_needed() =>
        Assert.All(House.LongFiles, exception =>
            Assert.True(File.ReadLines(Path.Combine(House.Root, exception.File)).Count() > House.LongestFile, exception.File));

    [Fact]
    public void No_file_names_a_path_of_one_machine_or_a_package_registry()
    {
        // Written in pieces, or this file would be the first to be found.
        Assert.Matches(MachineText(), "see /" + "root/.config");
        Assert.Matches(MachineText(), "/" + "home/ann/notes");
        Assert.Matches(MachineText(), "C:" + @"\Users\ann");
        Assert.Matches(MachineText(), "https://api.nu" + "get.org/v3");
        Assert.Matches(MachineText(), "registry.npm" + "js.org");
        Assert.DoesNotMatch(MachineText(), "https://dotnet.microsoft.com/download and src/work/here");
        Nothing.In(Lines(House.Files(TextFiles), MachineText()));
    }

    [Fact]
    public void Nothing_is_left_unfinished_or_switched_off()
    {
        Assert.Matches(UnfinishedText(), "throw new Not" + "ImplementedException();");
        Assert.Matches(UnfinishedText(), "[Fact(Sk" + "ip = \"later\")]");
        Assert.Matches(UnfinishedText(), "// TO" + "DO: more");
        Nothing.In(Lines(CodeFolders.SelectMany(folder => House.Files(Path.Combine(House.Root, folder), [".cs", ".cshtml", ".css", ".js", ".sql"])).Where(IsOurs), UnfinishedText()));
    }

    [Theory]
    [InlineData("<script>alert(1)</script>", true)]
    [InlineData("<script type=\"module\">", true)]
    [InlineData("<script type=\"module\" src=\"~/a.js\"></script>", false)]
    [InlineData("<STYLE>", true)]
    [InlineData("<p style=\"color:red\">", true)]
    [InlineData("<a onclick=\"go()\">", true)]
    [InlineData("<a href=\"javascript:go()\">", true)]
    [InlineData("<p class=\"style\" data-on=\"1\">", false)]
    public void Scan_tells_inline_code_from_plain_markup(string markup, bool inline) => Assert.Equal(inline, InlineText().IsMatch(markup));

    [Fact]
    public void Pages_hold_no_inline_script_style_or_handler() =>
        Nothing.In(Lines(House.Files(Path.Combine(House.Root, "src", "Indicators.Web"), [".cs", ".cshtml"]), InlineText()));

    [Theory]
    [InlineData("<h2>The table</h2>", true)]
    [InlineData("<td>none</td>", true)]
    [InlineData("<nav aria-label=\"Main\">", true)]
    [InlineData("<li>See all of @name.</li>", true)]
    [InlineData("<h2>@Headings.Table</h2>", false)]
    [InlineData("<td class=\"number\">@Phrases.Count(area.Wetlands)</td>", false)]
    [InlineData("<nav aria-label=\"@PageWords.Main\">", false)]
    [InlineData("<li>@words: <a href=\"~/file\" download>CSV</a></li>", false)]
    [InlineData("  @foreach (var node in Tree.Where(node => node.Count > 0))", false)]
    public void Scan_tells_words_of_a_page_from_markup(string markup, bool words) => Assert.Equal(words, PageText().IsMatch(markup));

    /// <summary>Every word of a page has its place in the files of languages; a page holds none of its own.</summary>
    [Fact]
    public void Pages_hold_no_words() =>
        Nothing.In(Lines(House.Files(Path.Combine(House.Root, "src", "Indicators.Web"), [".cshtml"]), PageText()));

    [Fact]
    public void No_launch_settings_override_the_address() =>
        Nothing.In(House.Files(".json").Where(file => Path.GetFileName(file).Equals("launchSettings.json", StringComparison.OrdinalIgnoreCase)).Select(House.Shown));

    private static readonly string[] CodeFolders = ["src", "tests", "seed-demo"];

    /// <summary>Vendored libraries keep their authors' text.</summary>
    private static bool IsOurs(string file) => !House.Shown(file).Contains("/wwwroot/lib/", StringComparison.Ordinal);

    private static List<string> Lines(IEnumerable<string> files, Regex pattern) =>
    [
        .. from file in files
           from line in File.ReadLines(file).Select((text, i) => (Text: text, Number: i + 1))
           where pattern.IsMatch(line.Text)
           select $"{House.Shown(file)}:{line.Number}",
    ];

    [GeneratedRegex(@"(?<![\w.~-])/(work|root|Users)/|(?<![\w.~-])/home/\w+/|[A-Z]:\\Users\\|(nuget|npmjs)\.(org|com)\b", RegexOptions.CultureInvariant)]
    private static partial Regex MachineText();

    // Names of formats are the same in every language.
    [GeneratedRegex(@"<(?:[a-z][a-z0-9]*\b[^<>]*|/[a-z0-9]+)(?<!=)>\s*(?!(?:CSV|JSON|QR)\b)[\p{L}][^<@]*|(aria-label|title|alt|placeholder)=""[^@""]*\p{L}{3}", RegexOptions.CultureInvariant)]
    private static partial Regex PageText();

    [GeneratedRegex(@"\bNotImplemented[E]xception\b|\bSkip\s*=\s*""|\bAssert\.Ski[p]|//.*\b(TO[D]O|FIX[M]E|XX[X])\b", RegexOptions.CultureInvariant)]
    private static partial Regex UnfinishedText();

    [GeneratedRegex(@"<script(?![^>]*\bsrc=)[^>]*>|<style\b|\sstyle\s*=\s*\\?[""']|\son[a-z]+\s*=\s*\\?[""']|javascript:", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex InlineText();
}
