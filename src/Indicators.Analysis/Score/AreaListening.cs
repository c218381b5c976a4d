using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Analysis.Score;

/// <summary>How much was listened in one area: seasons, wetlands, surveys, whatever the species.</summary>
internal sealed class AreaListening
{
    private readonly CellTable _cells;
    private readonly AreaNode _area;

    public AreaListening(CellTable cells, AreaNode area)
    {
        (_cells, _area) = (cells, area);
        Seasons = [.. Enumerable.Range(0, cells.Years).Where(y => area.Stations.Any(s => cells.Surveys(s, y) > 0)).Select(y => cells.FirstYear + y)];
    }

    /// <summary>Calendar years with an accepted survey, ascending.</summary>
    public int[] Seasons { get; }

    /// <summary>Wetlands of the area that were surveyed at all.</summary>
    public int Wetlands => WetlandsIn(int.MinValue, int.MaxValue);

    /// <summary>Surveys of all seasons.</summary>
    public int Surveys => SurveysIn(int.MinValue, int.MaxValue);

    /// <summary>Wetlands surveyed in a span of seasons, both ends included.</summary>
    public int WetlandsIn(int from, int to) =>
        _area.Stations.Where(s => Years(from, to).Any(y => _cells.Surveys(s, y) > 0)).Select(s => _cells.Stations[s].Wetland).Distinct().Count();

    /// <summary>Accepted surveys in a span of seasons.</summary>
    public int SurveysIn(int from, int to) => _area.Stations.Sum(s => Years(from, to).Sum(y => _cells.Surveys(s, y)));

    /// <summary>Whether a species was heard on an eligible survey in a span of seasons.</summary>
    public bool Heard(int species, int from, int to) =>
        _area.Stations.Any(s => _cells[species].EverHeard(s) && Years(from, to).Any(y => _cells[species].Heard(s, y) > 0));

    /// <summary>Effort season by season.</summary>
    public IReadOnlyList<SeasonEffort> Effort(WatershedCode code) =>
        [.. Seasons.Select(season => new SeasonEffort(
            code,
            season,
            _area.Stations.Count(s => _cells.Surveys(s, season - _cells.FirstYear) > 0),
            WetlandsIn(season, season),
            SurveysIn(season, season)))];

    /// <summary>What is missing in each season.</summary>
    /// <param name="code">The area it is told of.</param>
    /// <param name="expected">The expected species.</param>
    public IReadOnlyList<SeasonGap> Gaps(WatershedCode code, int[] expected)
    {
        var covered = Covered(expected);
        return [.. Seasons.Select(season =>
        {
            int year = season - _cells.FirstYear;
            int[] before = [.. _area.Stations.Where(s => Years(season - SeasonGap.SeasonsBefore, season - 1).Any(y => _cells.Surveys(s, y) > 0))];
            int without = 0, parts = 0;
            for (int i = 0; i < expected.Length; i++)
            {
                int met = Enumerable.Range(0, WindowParts).Count(part => covered[(year * expected.Length + i) * WindowParts + part]);
                without += met == 0 ? 1 : 0;
                parts += WindowParts - met;
            }
            return new SeasonGap(
                code, season, before.Length, before.Count(s => _cells.Surveys(s, year) == 0),
                expected.Length, without, expected.Length * WindowParts, parts);
        })];
    }

    private static readonly int WindowParts = Enum.GetValues<WindowPart>().Length;

    /// <summary>Whether a third of an expected species' window has a survey, at [(year × species + species) × thirds + third].</summary>
    private bool[] Covered(int[] expected)
    {
        var covered = new bool[_cells.Years * expected.Length * WindowParts];
        var visits = _cells.Visits;
        foreach (int station in _area.Stations)
        {
            for (int visit = visits.First(station); visit < visits.First(station + 1); visit++)
            {
                for (int i = 0; i < expected.Length; i++)
                {
                    if (visits.Season(visit, expected[i]) is { } season)
                        covered[((season - _cells.FirstYear) * expected.Length + i) * WindowParts + (int)visits.Part(visit, expected[i])] = true;
                }
            }
        }
        return covered;
    }

    private IEnumerable<int> Years(int from, int to)
    {
        int first = from <= _cells.FirstYear ? 0 : from - _cells.FirstYear;
        int last = to >= _cells.FirstYear + _cells.Years - 1 ? _cells.Years - 1 : to - _cells.FirstYear;
        for (int y = first; y <= last; y++)
            yield return y;
    }
}
