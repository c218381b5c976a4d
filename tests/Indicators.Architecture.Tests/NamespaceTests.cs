using ArchUnitNET.Domain;
using ArchUnitNET.Loader;
using Xunit;

namespace Indicators.Architecture.Tests;

/// <summary>No two namespaces know each other, within an assembly or across.</summary>
public sealed class NamespaceTests
{
    [Fact]
    public void No_two_namespaces_know_each_other()
    {
        var architecture = new ArchLoader().LoadAssemblies([.. House.Rooms.Select(room => System.Reflection.Assembly.LoadFrom(room.AssemblyPath))]).Build();
        var arrows = Arrows(architecture.Types);

        Assert.Contains(("Indicators.Analysis.Results", "Indicators.Monitoring"), arrows);
        Nothing.In(Mutual(arrows).Except(House.MutualNamespaces.Select(pair => (pair.One, pair.Other))));
    }

    [Fact]
    public void Scan_finds_a_pair_that_knows_each_other()
    {
        HashSet<(string, string)> arrows = [("A", "B"), ("B", "C"), ("B", "A")];

        Assert.Equal(("A", "B"), Assert.Single(Mutual(arrows)));
    }

    private static HashSet<(string From, string To)> Arrows(IEnumerable<IType> types) =>
    [
        .. from type in types
           where Ours(type)
           from dependency in type.Dependencies
           where Ours(dependency.Target) && dependency.Target.Namespace.FullName != type.Namespace.FullName
           select (type.Namespace.FullName, dependency.Target.Namespace.FullName),
    ];

    private static bool Ours(IType type) =>
        type.Namespace is { } space && (space.FullName == House.Name || space.FullName.StartsWith($"{House.Name}.", StringComparison.Ordinal));

    private static IEnumerable<(string, string)> Mutual(HashSet<(string From, string To)> arrows) =>
        arrows.Where(arrow => string.CompareOrdinal(arrow.From, arrow.To) < 0 && arrows.Contains((arrow.To, arrow.From)));
}
