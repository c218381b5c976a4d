using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Web.Reading;

/// <summary>An area and the areas of the edition that lie directly in it.</summary>
internal sealed record AreaNode(Area Area, IReadOnlyList<AreaNode> Children)
{
    public bool IsSmallest => Children.Count == 0;

    /// <summary>Whether it holds just one area with all its surveys, and so would only repeat that one's results.</summary>
    public bool Repeats => Children.Count == 1 && Children[0].Area.Surveys == Area.Surveys;

    public IEnumerable<AreaNode> SelfAndDescendants() => [this, .. Children.SelectMany(child => child.SelfAndDescendants())];
}

/// <summary>The nesting of an edition's areas.</summary>
internal sealed class AreaTree
{
    public AreaTree(IReadOnlyList<Area> areas)
    {
        var codes = areas.Select(area => area.Code).ToHashSet();
        var byParent = areas.ToLookup(area => Enclosing(area.Code, codes));
        var roots = byParent[null].Select(Node).ToList();
        Shown = roots.SelectMany(root => root.SelfAndDescendants()).Where(node => !node.Repeats).ToList();
        Smallest = Shown.Where(node => node.IsSmallest).ToList();
        Whole = roots.Count == 1 ? Deepest(roots[0]) : null;

        AreaNode Node(Area area) => new(area, byParent[area.Code].Select(Node).ToList());
    }

    /// <summary>All areas that say something of their own, each before what lies in it.</summary>
    public IReadOnlyList<AreaNode> Shown { get; }

    /// <summary>The areas that hold no other.</summary>
    public IReadOnlyList<AreaNode> Smallest { get; }

    /// <summary>The smallest area that holds every survey; null when there is none.</summary>
    public AreaNode? Whole { get; }

    /// <summary>The shown area with this code, or null.</summary>
    public AreaNode? Find(WatershedCode code) => Shown.FirstOrDefault(node => node.Area.Code == code);

    /// <summary>The shown areas that hold this one, largest first.</summary>
    public IEnumerable<AreaNode> Around(WatershedCode code) =>
        Shown.Where(node => node.Area.Code != code && code.IsWithin(node.Area.Code));

    private static WatershedCode? Enclosing(WatershedCode code, HashSet<WatershedCode> codes)
    {
        foreach (var outer in code.SelfAndAncestors().Skip(1))
        {
            if (codes.Contains(outer))
                return outer;
        }
        return null;
    }

    private static AreaNode Deepest(AreaNode node) => node.Repeats ? Deepest(node.Children[0]) : node;
}
