using System.Collections.Concurrent;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Monitoring;

namespace Indicators.Analysis.Areas;

/// <summary>
/// Which species belong to an area's own chorus: the programme's list for the nearest enclosing watershed that has one
/// (the union of the lists inside, for an area above them all), else the species heard in two seasons or more anywhere in
/// the enclosing 8-digit watershed.
/// </summary>
internal sealed class ExpectedLists
{
    private const int EnclosingDigits = 8;

    private readonly CellTable _cells;
    private readonly AreaTree _areas;
    private readonly int _seasonsToExpect;
    private readonly Dictionary<WatershedCode, int[]> _given;
    private readonly ConcurrentDictionary<WatershedCode, int[]> _heard = [];

    public ExpectedLists(CellTable cells, AreaTree areas, IReadOnlyList<ExpectedSpecies> given, ScoreOptions options)
    {
        (_cells, _areas, _seasonsToExpect) = (cells, areas, options.SeasonsHeardToExpect);
        var index = cells.Species.Select((s, i) => (s.Id, i)).ToDictionary(p => p.Id, p => p.i);
        _given = given.GroupBy(e => e.Watershed)
            .ToDictionary(g => g.Key, g => g.Select(e => index[e.Species]).Distinct().Order().ToArray());
    }

    /// <summary>The species expected in an area, as indices in ascending order, and whether the programme gave the list.</summary>
    public (int[] Species, bool Given) Of(WatershedCode area)
    {
        foreach (var code in area.SelfAndAncestors())
            if (_given.TryGetValue(code, out var list))
                return (list, true);
        int[] inside = [.. _given.Where(g => g.Key.IsWithin(area)).SelectMany(g => g.Value).Distinct().Order()];
        if (inside.Length > 0)
            return (inside, true);

        var enclosing = area.AtLevel(EnclosingDigits) ?? area;
        return (_heard.GetOrAdd(enclosing, code => Heard(_areas[code])), false);
    }

    private int[] Heard(AreaNode area) =>
        [.. Enumerable.Range(0, _cells.Species.Count).Where(k => SeasonsHeard(area, k) >= _seasonsToExpect)];

    private int SeasonsHeard(AreaNode area, int species) =>
        Enumerable.Range(0, _cells.Years).Count(year => area.Stations.Any(s => _cells[species].Heard(s, year) > 0));
}
