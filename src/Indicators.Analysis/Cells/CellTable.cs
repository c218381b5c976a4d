using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Cells;

/// <summary>
/// The cells of a programme: for every species, station and season the number of eligible surveys n and the sum of call
/// levels y. A survey counts for a species when its date lies in the species' calling window at that station.
/// </summary>
/// <remarks>Seasons run without a gap from the first to the last; a cell without effort has n = 0 and does not exist for a fit.</remarks>
internal sealed class CellTable
{
    private readonly SpeciesCells[] _cells;
    private readonly int[] _surveys;

    private CellTable(IReadOnlyList<Station> stations, IReadOnlyList<Species> species, VisitTable visits, int firstYear, int years)
    {
        (Stations, Species, Visits, FirstYear, Years) = (stations, species, visits, firstYear, years);
        _cells = [.. species.Select(_ => new SpeciesCells(stations.Count, years))];
        _surveys = new int[stations.Count * years];
    }

    /// <summary>All stations, ordered by id.</summary>
    public IReadOnlyList<Station> Stations { get; }

    /// <summary>All species, ordered by id.</summary>
    public IReadOnlyList<Species> Species { get; }

    /// <summary>The surveys behind the cells, station by station.</summary>
    public VisitTable Visits { get; }

    /// <summary>The first season of the table.</summary>
    public int FirstYear { get; }

    /// <summary>How many seasons the table spans.</summary>
    public int Years { get; }

    /// <summary>Surveys that fell in no species' window.</summary>
    public int OutsideEveryWindow { get; private set; }

    /// <summary>One species' cells.</summary>
    public SpeciesCells this[int species] => _cells[species];

    /// <summary>Accepted surveys of a station in a calendar year, eligible for any species or not.</summary>
    public int Surveys(int station, int year) => _surveys[station * Years + year];

    /// <summary>Counts every accepted survey up to the last season into its cells.</summary>
    public static CellTable Build(ProgrammeData data, int? throughSeason) => Build(data, throughSeason, out _);

    /// <summary>Counts every accepted survey up to the last season into its cells.</summary>
    /// <param name="data">The surveys and everything they refer to.</param>
    /// <param name="throughSeason">The last season, or null for all.</param>
    /// <param name="surveys">The surveys, one a visit. The table does not keep them: a nation's are most of what an analysis would hold.</param>
    public static CellTable Build(ProgrammeData data, int? throughSeason, out Survey[] surveys)
    {
        Station[] stations = [.. data.Stations.OrderBy(s => s.Id)];
        Species[] species = [.. data.Species.OrderBy(s => s.Id)];
        int last = data.Surveys.Select(s => s.Date.Year).DefaultIfEmpty(0).Max();
        // A window that wraps the year's end puts January into the season before.
        int first = data.Surveys.Select(s => s.Date.Year).DefaultIfEmpty(0).Min() - 1;
        last = Math.Min(last, throughSeason ?? last);
        var visits = VisitTable.Build(stations, species, data, last, out surveys);
        var table = new CellTable(stations, species, visits, first, Math.Max(1, last - first + 1));
        for (int station = 0; station < stations.Length; station++)
        {
            for (int visit = visits.First(station); visit < visits.First(station + 1); visit++)
            {
                table._surveys[station * table.Years + visits.Date(visit).Year - first]++;
                bool inside = false;
                for (int k = 0; k < species.Length; k++)
                {
                    if (visits.Season(visit, k) is not { } season)
                        continue;
                    inside = true;
                    table._cells[k].Add(station, season - first, visits.Level(visit, k));
                }
                if (!inside)
                    table.OutsideEveryWindow++;
            }
        }
        return table;
    }
}

/// <summary>The cells of one species: stations × seasons, how many surveys at each call level.</summary>
internal sealed class SpeciesCells(int stations, int years)
{
    private readonly ushort[] _effort = new ushort[stations * years];
    private readonly ushort[] _one = new ushort[stations * years];
    private readonly ushort[] _two = new ushort[stations * years];
    private readonly ushort[] _three = new ushort[stations * years];
    private readonly int[] _totalHeard = new int[stations];
    private readonly int[] _totalEffort = new int[stations];

    /// <summary>n: eligible surveys.</summary>
    public int Effort(int station, int year) => _effort[station * years + year];

    /// <summary>y under the call level: the sum of call levels.</summary>
    public int Calls(int station, int year) => (int)Response(station, year, (1, 2, 3));

    /// <summary>y under any response: what the surveys' levels count together.</summary>
    public double Response(int station, int year, (double One, double Two, double Three) weights)
    {
        int at = station * years + year;
        return weights.One * _one[at] + weights.Two * _two[at] + weights.Three * _three[at];
    }

    /// <summary>Eligible surveys on which it was heard at any level.</summary>
    public int Heard(int station, int year) => _one[station * years + year] + _two[station * years + year] + _three[station * years + year];

    /// <summary>Eligible surveys at full chorus.</summary>
    public int FullChorus(int station, int year) => _three[station * years + year];

    /// <summary>Whether a station ever heard it.</summary>
    public bool EverHeard(int station) => _totalHeard[station] > 0;

    /// <summary>Σ_t n of a station.</summary>
    public int TotalEffort(int station) => _totalEffort[station];

    /// <summary>Counts one eligible survey.</summary>
    public void Add(int station, int year, int level)
    {
        int at = station * years + year;
        checked
        {
            _effort[at]++;
            if (level == CallLevel.FullChorus)
                _three[at]++;
            else if (level == CallLevel.FullChorus - 1)
                _two[at]++;
            else if (level > 0)
                _one[at]++;
        }
        _totalEffort[station]++;
        if (level > 0)
            _totalHeard[station]++;
    }
}

/// <summary>Where a date lies for every species: its season, or <see cref="WindowLookup.Outside"/>, and its third of the calling window.</summary>
internal sealed record SpeciesDates(int[] Seasons, WindowPart[] Parts);

/// <summary>Which season and which part of the window a date belongs to for each species in a watershed.</summary>
internal sealed class WindowLookup(IReadOnlyList<Species> species, IReadOnlyList<ExpectedSpecies> expected)
{
    /// <summary>The date lies outside the species' window.</summary>
    public const int Outside = int.MinValue;

    private readonly Dictionary<(WatershedCode, Id<Species>), CallingWindow> _own = expected
        .Where(e => e.Window is not null)
        .ToDictionary(e => (e.Watershed, e.Species), e => e.Window!.Value);

    private readonly Dictionary<WatershedCode, CallingWindow[]> _windows = [];
    private readonly Dictionary<(CallingWindow[], LocalDate), SpeciesDates> _dates = [];

    /// <summary>Where a date lies for each species.</summary>
    public SpeciesDates Of(WatershedCode watershed, LocalDate date)
    {
        if (!_windows.TryGetValue(watershed, out var windows))
            _windows[watershed] = windows = Shared([.. species.Select(s => WindowOf(s, watershed))]);
        if (!_dates.TryGetValue((windows, date), out var dates))
        {
            int[] seasons = [.. windows.Select(w => w.SeasonOf(date) ?? Outside)];
            _dates[(windows, date)] = dates = new SpeciesDates(
                seasons, [.. windows.Select((w, k) => seasons[k] == Outside ? WindowPart.Early : PartOf(w, seasons[k], date))]);
        }
        return dates;
    }

    private static WindowPart PartOf(CallingWindow window, int season, LocalDate date)
    {
        var first = window.First.InYear(season);
        int days = Period.DaysBetween(first, window.Last.InYear(window.Wraps ? season + 1 : season)) + 1;
        return (WindowPart)(3 * Period.DaysBetween(first, date) / days);
    }

    /// <summary>The window the nearest enclosing watershed gives, else the species' own.</summary>
    public CallingWindow WindowOf(Species one, WatershedCode watershed)
    {
        foreach (var code in watershed.SelfAndAncestors())
            if (_own.TryGetValue((code, one.Id), out var window))
                return window;
        return one.Window;
    }

    /// <summary>Watersheds with the same windows share one array, and with it the cache of dates.</summary>
    private CallingWindow[] Shared(CallingWindow[] windows) =>
        _windows.Values.FirstOrDefault(known => known.AsSpan().SequenceEqual(windows)) ?? windows;
}
