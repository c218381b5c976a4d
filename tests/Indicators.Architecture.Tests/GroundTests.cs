using System.Diagnostics;
using System.Text.RegularExpressions;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>What a newcomer finds: two commands, documents whose links lead somewhere, projects that restore the same way twice.</summary>
public sealed partial class GroundTests
{
    [Theory]
    [InlineData("run")]
    [InlineData("test")]
    [InlineData(".ci/run")]
    public void Command_exists_and_can_be_run(string command)
    {
        string file = Path.Combine(House.Root, command);

        Assert.True(File.Exists(file));
        if (!OperatingSystem.IsWindows())
            Assert.True(File.GetUnixFileMode(file).HasFlag(UnixFileMode.UserExecute));
        Assert.StartsWith("#!/usr/bin/env bash\n", File.ReadAllText(file), StringComparison.Ordinal);
    }

    [Fact]
    public void Readme_sets_up_with_two_commands_and_no_more()
    {
        string readme = File.ReadAllText(Path.Combine(House.Root, "README.md"));

        Assert.Equal(["./run", "./test"], SetUpCommand().Matches(readme).Select(match => match.Value).Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_link_in_the_documents_leads_somewhere()
    {
        var documents = House.Files(".md").ToList();
        var broken = (
            from document in documents
            from Match link in Link().Matches(File.ReadAllText(document))
            let target = link.Groups[1].Value
            where !target.Contains("://", StringComparison.Ordinal) && !Leads(document, target)
            select $"{House.Shown(document)}: {target}").ToList();

        Assert.True(documents.Count >= 8);
        Nothing.In(broken);
    }

    [Fact]
    public void Link_check_finds_a_missing_file_and_a_missing_heading()
    {
        string readme = Path.Combine(House.Root, "README.md");

        Assert.True(Leads(readme, "docs/running.md"));
        Assert.False(Leads(readme, "docs/no-such-page.md"));
        Assert.False(Leads(readme, "docs/running.md#no-such-heading"));
    }

    [Fact]
    public void Every_path_that_the_documents_name_exists()
    {
        var missing = (
            from document in House.Files(".md")
            from Match named in NamedPath().Matches(File.ReadAllText(document))
            let path = named.Groups[1].Value.TrimEnd('/')
            where !Path.Exists(Path.Combine(House.Root, path))
            select $"{House.Shown(document)}: {path}").ToList();

        Nothing.In(missing);
    }

    [Fact]
    public void Every_verb_in_the_documents_is_one_the_command_line_knows()
    {
        var documents = House.Files(".md").Select(File.ReadAllText).ToList();
        string[] verbs = [.. documents.SelectMany(text => Verb().Matches(text)).Select(match => match.Groups[1].Value).Distinct().Order(StringComparer.Ordinal)];

        string help = Help();

        Assert.True(verbs.Length >= 6, string.Join(' ', verbs));
        Nothing.In(verbs.Where(verb => !Regex.IsMatch(help, $@"^ +{verb}\b", RegexOptions.Multiline)));
    }

    /// <summary>What the command line says of itself.</summary>
    private static string Help()
    {
        using var process = Process.Start(new ProcessStartInfo("dotnet", [House.RoomOf("Indicators.Cli").AssemblyPath, "--help"])
        {
            RedirectStandardOutput = true,
        })!;
        string help = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return help;
    }

    [Fact]
    public void Every_project_has_its_lock_file_and_stands_in_the_solution()
    {
        var projects = House.Files(".csproj").ToList();
        string solution = File.ReadAllText(Path.Combine(House.Root, $"{House.Name}.sln")).Replace('\\', '/');

        Assert.True(projects.Count > House.Rooms.Count);
        Nothing.In(projects.Where(project => !File.Exists(Path.Combine(Path.GetDirectoryName(project)!, "packages.lock.json"))).Select(House.Shown));
        Nothing.In(projects.Select(House.Shown).Where(project => !solution.Contains(project, StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_room_has_its_tests() =>
        Nothing.In(House.Rooms.Select(room => $"{room.Name}.Tests").Where(tests => !Directory.Exists(Path.Combine(House.Root, "tests", tests))));

    [Theory]
    [InlineData("Directory.Build.props", "<TreatWarningsAsErrors>true</TreatWarningsAsErrors>")]
    [InlineData("Directory.Build.props", "<Nullable>enable</Nullable>")]
    [InlineData("Directory.Build.props", "<RestorePackagesWithLockFile>true</RestorePackagesWithLockFile>")]
    [InlineData("Directory.Packages.props", "<ManagePackageVersionsCentrally>true</ManagePackageVersionsCentrally>")]
    [InlineData("global.json", "\"rollForward\": \"latestFeature\"")]
    public void Ground_rule_of_the_build_stands(string file, string rule) =>
        Assert.Contains(rule, File.ReadAllText(Path.Combine(House.Root, file)), StringComparison.Ordinal);

    private static bool Leads(string document, string target)
    {
        string[] parts = target.Split('#', 2);
        string file = parts[0].Length == 0 ? document : Path.GetFullPath(Path.Combine(Path.GetDirectoryName(document)!, parts[0]));
        if (!Path.Exists(file))
            return false;
        return parts.Length == 1 || Headings(file).Contains(parts[1]);
    }

    /// <summary>Anchors as the usual Markdown hosts make them: lower case, signs dropped, spaces to hyphens.</summary>
    private static HashSet<string> Headings(string file) =>
    [
        .. File.ReadLines(file).Where(line => line.StartsWith('#'))
            .Select(line => NotInAnchor().Replace(line.TrimStart('#').Trim().ToLowerInvariant(), "").Replace(' ', '-')),
    ];

    [GeneratedRegex(@"(?<=^|[\s`(])\./[a-z]+\b")]
    private static partial Regex SetUpCommand();

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"`((?:src|tests|docs|seed-demo)/[\w./-]+)`")]
    private static partial Regex NamedPath();

    [GeneratedRegex(@"(?:Indicators\.Cli(?: -c Release| --configuration Release)? -- |`indicators )([a-z]+)")]
    private static partial Regex Verb();

    [GeneratedRegex(@"[^\w\- ]")]
    private static partial Regex NotInAnchor();
}
