using System.Collections.Concurrent;
using System.Numerics;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Results;

namespace Indicators.Analysis.Changes;

/// <summary>
/// What the listening of two times shares, station by station. A station brings the same to every area it lies in, so it is
/// worked out once. Several threads may ask: what two of them make of the same is the same.
/// </summary>
internal sealed class SharedListening
{
    /// <summary>So many stations' shares are remembered for each species: a state's all, a nation's for the comparison under way.</summary>
    private const int Remembered = 20_000;

    private readonly CellTable _cells;
    private readonly VisitFacts _facts;
    private readonly (double One, double Two, double Three) _response;
    private readonly int[] _firstOfYear;
    private readonly ConcurrentDictionary<(BigInteger Before, BigInteger Now), StationShare?[]>[] _known;

    /// <summary>Looks at every visit once.</summary>
    /// <param name="cells">The cells.</param>
    /// <param name="facts">Who listened and how.</param>
    /// <param name="response">What levels 1, 2 and 3 count.</param>
    public SharedListening(CellTable cells, VisitFacts facts, (double One, double Two, double Three) response)
    {
        (_cells, _facts, _response) = (cells, facts, response);
        _known = [.. cells.Species.Select(_ => new ConcurrentDictionary<(BigInteger, BigInteger), StationShare?[]>())];
        var visits = cells.Visits;
        _firstOfYear = new int[cells.Stations.Count * (cells.Years + 1)];
        for (int station = 0; station < cells.Stations.Count; station++)
        {
            int visit = visits.First(station), end = visits.First(station + 1);
            for (int year = 0; year <= cells.Years; year++)
            {
                while (visit < end && visits.Date(visit).Year < cells.FirstYear + year)
                    visit++;
                _firstOfYear[station * (cells.Years + 1) + year] = visit;
            }
        }
    }

    /// <summary>What stations bring.</summary>
    /// <param name="stations">Indices of the stations.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="before">The earlier seasons.</param>
    /// <param name="now">The later seasons, none of them earlier.</param>
    /// <returns>One a station, in their order.</returns>
    public StationShare[] Of(IReadOnlyList<int> stations, int species, IReadOnlyList<int> before, IReadOnlyList<int> now)
    {
        var key = (Mask(before), Mask(now));
        var known = _known[species];
        if (!known.TryGetValue(key, out var shares))
        {
            if (known.Count * _cells.Stations.Count >= Remembered)
                known.Clear();
            shares = known.GetOrAdd(key, _ => new StationShare?[_cells.Stations.Count]);
        }
        var times = new Time[_cells.Years];
        foreach (int season in before)
            times[season - _cells.FirstYear] = Time.Before;
        foreach (int season in now)
            times[season - _cells.FirstYear] = Time.Now;
        var gathered = new List<OneVisit>();
        return [.. stations.Select(station => shares[station] ??= Make(gathered, station, species, times))];
    }

    /// <summary>Which of the two times a season belongs to.</summary>
    private enum Time : byte
    {
        Neither,
        Before,
        Now,
    }

    private BigInteger Mask(IReadOnlyList<int> seasons)
    {
        BigInteger mask = 0;
        foreach (int season in seasons)
            mask |= BigInteger.One << (season - _cells.FirstYear);
        return mask;
    }

    private StationShare Make(List<OneVisit> gathered, int station, int species, Time[] times)
    {
        gathered.Clear();
        for (int year = 0; year < times.Length; year++)
        {
            // A window that wraps the year's end has a season's visits in the year after, too.
            if (times[year] != Time.Neither || (year > 0 && times[year - 1] != Time.Neither))
                Gather(gathered, station, species, year, times);
        }

        double weight = _cells.Stations[station].Weight;
        double callsBefore = 0, callsNow = 0;
        int surveysBefore = 0, surveysNow = 0;
        foreach (var visit in gathered)
        {
            callsBefore += visit.IsNow ? 0 : visit.Calls;
            callsNow += visit.IsNow ? visit.Calls : 0;
            surveysBefore += visit.IsNow ? 0 : 1;
            surveysNow += visit.IsNow ? 1 : 0;
        }
        var share = new StationShare
        {
            CallsBefore = weight * callsBefore,
            CallsNow = weight * callsNow,
            EffortBefore = weight * surveysBefore,
            EffortNow = weight * surveysNow,
            SurveysBefore = surveysBefore,
            SurveysNow = surveysNow,
            Now = new double[StationShare.Steps],
            Before = new double[StationShare.Steps],
            Surveys = new int[StationShare.Steps],
            Observers = [.. Enumerable.Repeat<int[]>([], StationShare.Steps)],
        };
        if (share.Shared)
        {
            for (var step = ListeningStep.Stations; step <= ListeningStep.Method; step++)
                Stratify(gathered, step, weight, share);
        }
        return share;
    }

    private void Gather(List<OneVisit> into, int station, int species, int year, Time[] times)
    {
        var visits = _cells.Visits;
        int row = station * (_cells.Years + 1) + year;
        for (int visit = _firstOfYear[row]; visit < _firstOfYear[row + 1]; visit++)
        {
            if (visits.Season(visit, species) is not { } season)
                continue;
            // A season can begin in the year before the first, or belong to neither time.
            int at = season - _cells.FirstYear;
            if ((uint)at >= times.Length || times[at] == Time.Neither)
                continue;
            double calls = visits.Level(visit, species) switch { 0 => 0, 1 => _response.One, 2 => _response.Two, _ => _response.Three };
            into.Add(new OneVisit(times[at] == Time.Now, calls, (int)visits.Part(visit, species), _facts.Observer(visit), (int)_facts.Protocol(visit), _facts.Minutes(visit)));
        }
    }

    /// <summary>Sums over the strata that both times have. Few visits a station: every one is compared with those after it.</summary>
    private static void Stratify(List<OneVisit> visits, ListeningStep step, double weight, StationShare share)
    {
        Span<bool> done = visits.Count <= 256 ? stackalloc bool[visits.Count] : new bool[visits.Count];
        double sumNow = 0, sumBefore = 0;
        int surveys = 0;
        var observers = step >= ListeningStep.Observers ? new HashSet<int>() : null;
        for (int i = 0; i < visits.Count; i++)
        {
            // Nobody named cannot be told to be the same as nobody named; the same for a protocol that cannot be checked.
            if (done[i] || !visits[i].IsKnown(step))
                continue;
            double callsNow = 0, callsBefore = 0;
            int now = 0, before = 0;
            for (int j = i; j < visits.Count; j++)
            {
                if (done[j] || !visits[j].IsKnown(step) || !visits[j].IsLike(visits[i], step))
                    continue;
                done[j] = true;
                if (visits[j].IsNow)
                    (now, callsNow) = (now + 1, callsNow + visits[j].Calls);
                else
                    (before, callsBefore) = (before + 1, callsBefore + visits[j].Calls);
            }
            if (now == 0 || before == 0)
                continue;
            sumNow += callsNow * before / (now + before);
            sumBefore += callsBefore * now / (now + before);
            surveys += now + before;
            observers?.Add(visits[i].Observer);
        }
        if (observers is not null)
            share.Observers[(int)step] = [.. observers];
        (share.Now[(int)step], share.Before[(int)step], share.Surveys[(int)step]) = (weight * sumNow, weight * sumBefore, surveys);
    }

    private readonly record struct OneVisit(bool IsNow, double Calls, int Part, int Observer, int Protocol, int Minutes)
    {
        public bool IsKnown(ListeningStep step) =>
            (step < ListeningStep.Observers || Observer != VisitFacts.NobodyNamed) && (step < ListeningStep.Method || Protocol != (int)Kept.Unknown);

        public bool IsLike(in OneVisit other, ListeningStep step) =>
            (step < ListeningStep.Windows || Part == other.Part)
            && (step < ListeningStep.Observers || Observer == other.Observer)
            && (step < ListeningStep.Method || (Protocol == other.Protocol && Minutes == other.Minutes));
    }
}
