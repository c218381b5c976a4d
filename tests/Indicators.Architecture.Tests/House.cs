using System.Xml.Linq;

namespace Indicators.Architecture.Tests;

/// <summary>One project of the house.</summary>
/// <param name="Name">Its name, which is its folder's and its namespace's.</param>
/// <param name="Floor">Its floor, 1 at the bottom.</param>
/// <param name="Packages">The packages it may name.</param>
public sealed record Room(string Name, int Floor, params string[] Packages)
{
    /// <summary>Its assembly beside the tests.</summary>
    public string AssemblyPath => Path.Combine(AppContext.BaseDirectory, $"{House.AssemblyNameOf(Name)}.dll");

    public string ProjectFile => Path.Combine(House.Root, "src", Name, $"{Name}.csproj");
}

/// <summary>The plan of the house, and the visible lists of what is let off a rule and why.</summary>
public static class House
{
    public const string Name = "Indicators";

    /// <summary>Every project under src, its floor and its packages. A new project or package is written down here first.</summary>
    public static IReadOnlyList<Room> Rooms { get; } =
    [
        new("Indicators.Statistics", 1, "MathNet.Numerics"),
        new("Indicators.Monitoring", 1, "NodaTime"),
        new("Indicators.Analysis", 2),
        new("Indicators.Storage", 3, "Dapper", "Microsoft.Data.Sqlite", "dbup-core", "dbup-sqlite"),
        new("Indicators.Exchange", 3, "Ical.Net", "NetTopologySuite"),
        new("Indicators.Wording", 3),
        new("Indicators.Application", 4),
        new("Indicators.Web", 5, "Markdig", "QRCoder"),
        new("Indicators.Cli", 5, "System.CommandLine", "Spectre.Console"),
    ];

    /// <summary>References that do not go down a floor.</summary>
    public static IReadOnlyList<(string From, string To, string Why)> LevelReferences { get; } =
    [
        ("Indicators.Cli", "Indicators.Web", "serve and demo start the web app"),
    ];

    /// <summary>Rooms that neither read nor write anything outside themselves.</summary>
    public static IReadOnlyList<string> WithoutInputOrOutput { get; } =
        ["Indicators.Statistics", "Indicators.Monitoring", "Indicators.Analysis", "Indicators.Wording"];

    /// <summary>Types of input and output that those rooms may name all the same.</summary>
    public static IReadOnlyList<(string Room, string Type, string Why)> AllowedInputOrOutput { get; } =
    [
        ("Indicators.Wording", "System.IO.Stream", "its languages are embedded in the assembly itself and read from there"),
    ];

    /// <summary>Source files that may be longer than <see cref="LongestFile"/> lines.</summary>
    public static IReadOnlyList<(string File, string Why)> LongFiles { get; } = [];

    /// <summary>A file longer than this usually holds two ideas.</summary>
    public const int LongestFile = 400;

    /// <summary>Pairs of namespaces that may know each other.</summary>
    public static IReadOnlyList<(string One, string Other, string Why)> MutualNamespaces { get; } = [];

    /// <summary>The checkout: the nearest folder upward that holds the solution.</summary>
    public static string Root { get; } = FindRoot();

    public static Room RoomOf(string name) => Rooms.Single(room => room.Name == name);

    /// <summary>An assembly is named for its project unless the project says otherwise.</summary>
    public static string AssemblyNameOf(string project) =>
        XDocument.Load(Path.Combine(Root, "src", project, $"{project}.csproj")).Descendants("AssemblyName").FirstOrDefault()?.Value ?? project;

    /// <summary>Files of the checkout as they would be tracked: no build output, no tool folders.</summary>
    public static IEnumerable<string> Files(params string[] extensions) => Files(Root, extensions);

    /// <summary>The same below one folder.</summary>
    public static IEnumerable<string> Files(string folder, string[] extensions) =>
        Directory.EnumerateFiles(folder).Where(file => extensions.Length == 0 || extensions.Contains(Path.GetExtension(file)))
            .Concat(Directory.EnumerateDirectories(folder).Where(IsSource).SelectMany(inner => Files(inner, extensions)))
            .Order(StringComparer.Ordinal);

    /// <summary>A path as messages show it.</summary>
    public static string Shown(string path) => Path.GetRelativePath(Root, path).Replace('\\', '/');

    private static bool IsSource(string folder) =>
        Path.GetFileName(folder) is not ("bin" or "obj" or ".git" or "TestResults" or "BenchmarkDotNet.Artifacts" or "node_modules" or ".vs" or ".idea");

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, $"{Name}.sln")))
                return folder.FullName;
        }

        throw new DirectoryNotFoundException($"No folder above the tests holds {Name}.sln.");
    }
}
