using System.Xml.Linq;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>No arrow runs up: what projects and assemblies refer to.</summary>
public sealed class FloorTests
{
    public static TheoryData<string> RoomNames => [.. House.Rooms.Select(room => room.Name)];

    [Fact]
    public void Every_project_under_src_stands_in_the_plan() =>
        Assert.Equal(
            House.Rooms.Select(room => room.Name).Order(StringComparer.Ordinal),
            Directory.GetDirectories(Path.Combine(House.Root, "src")).Select(folder => Path.GetFileName(folder)!).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(RoomNames))]
    public void Project_refers_downward_only(string name)
    {
        var room = House.RoomOf(name);
        var references = XDocument.Load(room.ProjectFile).Descendants("ProjectReference")
            .Select(reference => Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/')));

        Nothing.In(references.Where(to => !MayKnow(room, to)));
    }

    [Theory]
    [MemberData(nameof(RoomNames))]
    public void Assembly_refers_downward_only(string name)
    {
        var room = House.RoomOf(name);
        using var assembly = new AssemblyNames(room.AssemblyPath);
        var known = House.Rooms.ToDictionary(other => House.AssemblyNameOf(other.Name), other => other.Name);

        Nothing.In(assembly.References.Where(known.ContainsKey).Where(reference => !MayKnow(room, known[reference])));
    }

    [Theory]
    [MemberData(nameof(RoomNames))]
    public void Project_names_only_the_packages_of_the_plan(string name)
    {
        var room = House.RoomOf(name);
        var packages = XDocument.Load(room.ProjectFile).Descendants("PackageReference").Select(package => package.Attribute("Include")!.Value);

        Nothing.In(packages.Except(room.Packages));
    }

    [Fact]
    public void Only_storage_reaches_the_database_packages()
    {
        foreach (var room in House.Rooms.Where(room => room.Name != "Indicators.Storage"))
        {
            using var assembly = new AssemblyNames(room.AssemblyPath);
            Nothing.In(assembly.References.Intersect(DatabasePackages));
        }
    }

    private static readonly string[] DatabasePackages = ["Dapper", "Microsoft.Data.Sqlite", "SQLitePCLRaw.core", "dbup-core", "dbup-sqlite"];

    [Fact]
    public void Plan_refuses_an_arrow_up_and_an_arrow_sideways()
    {
        Assert.False(MayKnow(House.RoomOf("Indicators.Analysis"), "Indicators.Storage"));
        Assert.False(MayKnow(House.RoomOf("Indicators.Statistics"), "Indicators.Monitoring"));
        Assert.False(MayKnow(House.RoomOf("Indicators.Web"), "Indicators.Cli"));
        Assert.True(MayKnow(House.RoomOf("Indicators.Cli"), "Indicators.Web"));
        Assert.True(MayKnow(House.RoomOf("Indicators.Application"), "Indicators.Monitoring"));
    }

    private static bool MayKnow(Room from, string to) =>
        House.RoomOf(to).Floor < from.Floor || House.LevelReferences.Any(level => level.From == from.Name && level.To == to);
}
