using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Cells;

/// <summary>
/// The accepted surveys of a programme up to its last season, station by station, each with the call level of every species
/// and the season it counts in. Visits of station s are numbered from <see cref="First"/>(s) up to before
/// <see cref="First"/>(s + 1), by date, then survey.
/// </summary>
internal sealed class VisitTable
{
    private readonly LocalDate[] _days;
    private readonly int[] _first;
    private readonly SpeciesDates[] _dates;
    private readonly byte[] _levels;
    private readonly int _species;

    private VisitTable(LocalDate[] days, int[] first, SpeciesDates[] dates, byte[] levels, int species) =>
        (_days, _first, _dates, _levels, _species) = (days, first, dates, levels, species);

    /// <summary>How many visits there are.</summary>
    public int Count => _days.Length;

    /// <summary>The first visit of a station; of the number of stations, how many visits there are.</summary>
    public int First(int station) => _first[station];

    /// <summary>The survey's date.</summary>
    public LocalDate Date(int visit) => _days[visit];

    /// <summary>The season a visit counts in for a species, or null when it lies outside the species' calling window.</summary>
    public int? Season(int visit, int species) =>
        _dates[visit].Seasons[species] is var season and not WindowLookup.Outside ? season : null;

    /// <summary>The third of the species' calling window a visit falls in; without meaning outside it.</summary>
    public WindowPart Part(int visit, int species) => _dates[visit].Parts[species];

    /// <summary>The call level of a species, 0 when it was not heard.</summary>
    public int Level(int visit, int species) => _levels[visit * _species + species];

    /// <summary>Puts the surveys in order and looks up their seasons.</summary>
    /// <param name="stations">All stations, ordered by id.</param>
    /// <param name="species">All species, ordered by id.</param>
    /// <param name="data">Where the surveys and the windows come from.</param>
    /// <param name="lastYear">Surveys of later calendar years are left out.</param>
    /// <param name="surveys">The surveys, one a visit: whatever else they say has to be read while they are here.</param>
    public static VisitTable Build(IReadOnlyList<Station> stations, IReadOnlyList<Species> species, ProgrammeData data, int lastYear, out Survey[] surveys)
    {
        var stationIndex = Index(stations, s => s.Id);
        var speciesIndex = Index(species, s => s.Id);
        (int Station, Survey Survey)[] sorted =
        [
            .. data.Surveys.Where(s => s.Date.Year <= lastYear).Select(s => (Station: stationIndex[s.Station], Survey: s))
                .OrderBy(v => v.Station).ThenBy(v => v.Survey.Date).ThenBy(v => v.Survey.Id),
        ];
        var first = new int[stations.Count + 1];
        foreach (var (station, _) in sorted)
            first[station + 1]++;
        for (int s = 0; s < stations.Count; s++)
            first[s + 1] += first[s];

        var windows = new WindowLookup(species, data.Expected);
        var dates = new SpeciesDates[sorted.Length];
        var levels = new byte[sorted.Length * species.Count];
        for (int v = 0; v < sorted.Length; v++)
        {
            var (station, survey) = sorted[v];
            dates[v] = windows.Of(stations[station].Watershed, survey.Date);
            foreach (var call in survey.Calls)
                levels[v * species.Count + speciesIndex[call.Species]] = (byte)call.Level.Value;
        }
        surveys = [.. sorted.Select(v => v.Survey)];
        return new VisitTable([.. surveys.Select(s => s.Date)], first, dates, levels, species.Count);
    }

    private static Dictionary<TKey, int> Index<T, TKey>(IReadOnlyList<T> items, Func<T, TKey> key)
        where TKey : notnull
    {
        var index = new Dictionary<TKey, int>(items.Count);
        for (int i = 0; i < items.Count; i++)
            index[key(items[i])] = i;
        return index;
    }
}
