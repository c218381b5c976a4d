using System.Reflection;
using System.Xml.Linq;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>Public types of floors 1 to 4 say what they are.</summary>
public sealed class DocumentationTests
{
    public static TheoryData<string> DocumentedRooms => [.. House.Rooms.Where(room => room.Floor <= 4).Select(room => room.Name)];

    [Theory]
    [MemberData(nameof(DocumentedRooms))]
    public void Every_public_type_has_its_documentation(string name)
    {
        var room = House.RoomOf(name);
        var documented = XDocument.Load(Path.ChangeExtension(room.AssemblyPath, ".xml")).Descendants("member")
            .Select(member => member.Attribute("name")!.Value).ToHashSet();
        var types = Assembly.LoadFrom(room.AssemblyPath).GetExportedTypes();

        Nothing.In(types.Select(type => $"T:{type.FullName!.Replace('+', '.')}").Where(type => !documented.Contains(type)));
    }

    [Theory]
    [MemberData(nameof(DocumentedRooms))]
    public void Missing_documentation_stays_an_error(string name)
    {
        var room = House.RoomOf(name);
        string project = File.ReadAllText(room.ProjectFile);

        Assert.Contains("<GenerateDocumentationFile>true</GenerateDocumentationFile>", project, StringComparison.Ordinal);
        Assert.DoesNotContain("CS1591", project, StringComparison.Ordinal);
        Nothing.In(House.Files(Path.GetDirectoryName(room.ProjectFile)!, [".cs"])
            .Where(file => File.ReadAllText(file).Contains("CS1591", StringComparison.Ordinal)).Select(House.Shown));
    }
}
