using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Places;

/// <summary>When species are listened for and were heard in an area.</summary>
internal sealed class CallingTimes
{
    private const int Days = 366;

    private readonly CellTable _cells;
    private readonly WindowLookup _windows;

    public CallingTimes(CellTable cells, IReadOnlyList<ExpectedSpecies> expected) =>
        (_cells, _windows) = (cells, new WindowLookup(cells.Species, expected));

    /// <summary>One species' row.</summary>
    public CallingTime Of(AreaNode area, WatershedCode code, int species)
    {
        var one = _cells.Species[species];
        var windows = area.Stations.Select(station => _windows.WindowOf(one, _cells.Stations[station].Watershed)).Distinct().ToList();
        int opens = YearOpens(windows);
        int Place(AnnualDate day) => After(opens, DayOf(day));
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

    /// <summary>
    /// The day that a species' days are put in order from: New Year, or where a window runs over it, the first day of a window with the
    /// longest time before it in which no window is open.
    /// </summary>
    private static int YearOpens(List<CallingWindow> windows) => windows.Exists(window => window.Wraps)
        ? windows.Select(window => DayOf(window.First)).MaxBy(day => windows.Min(window => ClosedBefore(day, window)))
        : 1;

    /// <summary>How many days before a day a window has been closed; 0 when it is open then.</summary>
    private static int ClosedBefore(int day, CallingWindow window)
    {
        int length = After(DayOf(window.First), DayOf(window.Last)), since = After(DayOf(window.First), day);
        return since == 0 ? Days - 1 - length : Math.Max(0, since - 1 - length);
    }

    private static int After(int from, int day) => (day - from + Days) % Days;

    private static int DayOf(AnnualDate day) => day.InYear(2024).DayOfYear;
}
