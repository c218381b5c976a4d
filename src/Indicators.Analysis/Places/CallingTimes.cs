using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Places;

/// <summary>When species are listened for and were heard in an area.</summary>
internal sealed class CallingTimes
{
    private readonly CellTable _cells;
    private readonly WindowLookup _windows;
    private readonly int _yearOpens;

    public CallingTimes(CellTable cells, IReadOnlyList<ExpectedSpecies> expected)
    {
        _cells = cells;
        _windows = new WindowLookup(cells.Species, expected);
        // Days are put in order from New Year, or from midsummer on where a window runs over New Year.
        bool wraps = cells.Species.Any(species => species.Window.Wraps) || expected.Any(each => each.Window is { Wraps: true });
        _yearOpens = wraps ? 183 : 1;
    }

    /// <summary>One row a species that may be told of, in their order.</summary>
    public IReadOnlyList<CallingTime> Of(AreaNode area, WatershedCode code, IEnumerable<int> told) =>
        [.. told.Select(species => Of(area, code, species))];

    private CallingTime Of(AreaNode area, WatershedCode code, int species)
    {
        var one = _cells.Species[species];
        var windows = area.Stations.Select(station => _windows.WindowOf(one, _cells.Stations[station].Watershed)).Distinct().ToList();
        var time = new CallingTime
        {
            Area = code,
            Species = one.Id,
            Window = new CallingWindow(windows.MinBy(window => Place(window.First)).First, windows.MaxBy(window => Place(window.Last)).Last),
        };
        if (one.Protected)
            return time;
        var heard = Heard(area, species).OrderBy(Place).ToList();
        return time with
        {
            SurveysHeard = heard.Count,
            FirstHeard = heard.Count == 0 ? null : heard[0],
            MedianHeard = heard.Count == 0 ? null : heard[(heard.Count - 1) / 2],
            LastHeard = heard.Count == 0 ? null : heard[^1],
        };
    }

    private IEnumerable<AnnualDate> Heard(AreaNode area, int species)
    {
        var visits = _cells.Visits;
        foreach (int station in area.Stations)
        {
            for (int visit = visits.First(station); visit < visits.First(station + 1); visit++)
            {
                if (visits.Level(visit, species) > 0 && visits.Season(visit, species) is not null)
                    yield return new AnnualDate(visits.Date(visit).Month, visits.Date(visit).Day);
            }
        }
    }

    private int Place(AnnualDate day) => (day.InYear(2024).DayOfYear - _yearOpens + 366) % 366;
}
