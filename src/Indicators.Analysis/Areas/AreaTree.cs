using Indicators.Analysis.Cells;
using Indicators.Monitoring;

namespace Indicators.Analysis.Areas;

/// <summary>One watershed of any level and the stations in it that were surveyed.</summary>
internal sealed class AreaNode
{
    public required WatershedCode Code { get; init; }

    /// <summary>Indices into the cell table's stations, ascending.</summary>
    public required int[] Stations { get; init; }

    /// <summary>
    /// The smallest watershed with the very same stations: what is computed for one is computed for all of them, from the
    /// same draws, so the same listening never gives two answers.
    /// </summary>
    public WatershedCode Representative { get; set; }
}

/// <summary>Every watershed level that the stations' codes imply.</summary>
internal sealed class AreaTree
{
    private readonly SortedDictionary<WatershedCode, AreaNode> _nodes = [];

    public AreaTree(CellTable cells)
    {
        var stations = new SortedDictionary<WatershedCode, List<int>>();
        for (int s = 0; s < cells.Stations.Count; s++)
        {
            if (!Enumerable.Range(0, cells.Years).Any(year => cells.Surveys(s, year) > 0))
            {
                NeverSurveyed++;
                continue;
            }
            foreach (var code in cells.Stations[s].Watershed.SelfAndAncestors())
            {
                if (!stations.TryGetValue(code, out var list))
                    stations[code] = list = [];
                list.Add(s);
            }
        }
        foreach (var (code, list) in stations)
            _nodes[code] = new AreaNode { Code = code, Stations = [.. list], Representative = code };

        // Children come after their parents in code order, so from the end every child is settled before its parent.
        foreach (var node in _nodes.Values.Reverse())
            if (node.Code.Parent is { } parent && _nodes[parent].Stations.Length == node.Stations.Length)
                _nodes[parent].Representative = node.Representative;
    }

    /// <summary>Stations without one accepted survey.</summary>
    public int NeverSurveyed { get; }

    /// <summary>The areas ordered by code.</summary>
    public IReadOnlyCollection<AreaNode> Nodes => _nodes.Values;

    public AreaNode this[WatershedCode code] => _nodes[code];
}
