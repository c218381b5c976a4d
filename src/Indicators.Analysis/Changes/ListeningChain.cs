using Indicators.Analysis.Areas;
using Indicators.Analysis.Results;

namespace Indicators.Analysis.Changes;

/// <summary>
/// The change of one species' calling between two times in one area, on all surveys and then on what both times share, step
/// by step. Within steps it is the rate ratio of Mantel and Haenszel over strata that both times have.
/// </summary>
internal sealed class ListeningChain
{
    /// <summary>
    /// A step is not taken that leaves less than this share of the surveys at stations of both times (ours): finer strata have
    /// fewer surveys in common, and what was heard would be told from a handful.
    /// </summary>
    public const double SmallestShare = 0.5;

    private readonly StationShare[] _shares;
    private readonly AreaClusters _clusters;

    private ListeningChain(StationShare[] shares, AreaClusters clusters) => (_shares, _clusters) = (shares, clusters);

    /// <summary>ln of the ratio of the mean responses of all surveys; not finite when one time was silent.</summary>
    public double All { get; private init; }

    /// <summary>The same after each step taken, in order.</summary>
    public IReadOnlyList<double> Logs { get; private set; } = [];

    /// <summary>Why no more steps were taken.</summary>
    public ChangeStop Stop { get; private set; }

    /// <summary>Wetlands (or stations, where these are resampled) that share listening and heard it, after the last step.</summary>
    public int Informative { get; private set; }

    /// <summary>Mean response of the earlier time.</summary>
    public double MeanBefore { get; private init; }

    /// <summary>Mean response of the later time.</summary>
    public double MeanNow { get; private init; }

    /// <summary>Surveys of the earlier time.</summary>
    public int SurveysBefore { get; private init; }

    /// <summary>Surveys of the later time.</summary>
    public int SurveysNow { get; private init; }

    /// <summary>The species was heard at a station surveyed at both times, the earlier time.</summary>
    public bool SharedHeardBefore => _shares.Any(share => share.Shared && share.CallsBefore > 0);

    /// <summary>The same, the later time.</summary>
    public bool SharedHeardNow => _shares.Any(share => share.Shared && share.CallsNow > 0);

    /// <summary>The last step taken; null for none.</summary>
    public ListeningStep? Last => Logs.Count == 0 ? null : (ListeningStep)(Logs.Count - 1);

    /// <summary>Surveys that both times share after the last step; all when none was taken.</summary>
    public int SharedSurveys => Last is { } last ? _shares.Sum(share => share.Surveys[(int)last]) : SurveysBefore + SurveysNow;

    /// <summary>Which clusters they lie in.</summary>
    public int SharedClusters =>
        Count(place => Last is { } last ? _shares[place].Surveys[(int)last] > 0 : _shares[place].SurveysBefore + _shares[place].SurveysNow > 0);

    /// <summary>Goes through the steps.</summary>
    /// <param name="listening">What stations share.</param>
    /// <param name="area">The area.</param>
    /// <param name="clusters">Its clusters.</param>
    /// <param name="species">Index of the species.</param>
    /// <param name="before">The earlier seasons.</param>
    /// <param name="now">The later seasons.</param>
    /// <param name="minimumClusters">A step that leaves fewer informative clusters is not taken, nor any after it.</param>
    public static ListeningChain Of(
        SharedListening listening, AreaNode area, AreaClusters clusters, int species, IReadOnlyList<int> before, IReadOnlyList<int> now, int minimumClusters)
    {
        StationShare[] shares = [.. area.Stations.Select(station => listening.Of(station, species, before, now))];
        double meanBefore = shares.Sum(s => s.CallsBefore) / shares.Sum(s => s.EffortBefore), meanNow = shares.Sum(s => s.CallsNow) / shares.Sum(s => s.EffortNow);
        var chain = new ListeningChain(shares, clusters)
        {
            All = Math.Log(meanNow / meanBefore),
            MeanBefore = meanBefore,
            MeanNow = meanNow,
            SurveysBefore = shares.Sum(s => s.SurveysBefore),
            SurveysNow = shares.Sum(s => s.SurveysNow),
        };
        if (double.IsFinite(chain.All))
            chain.Take(minimumClusters);
        return chain;
    }

    /// <summary>What each cluster brings to the ratio of all surveys and to that of the last step: six sums a cluster.</summary>
    public double[] Columns()
    {
        var columns = new double[_clusters.Count * ChangeDraws.Columns];
        for (int i = 0; i < _shares.Length; i++)
        {
            var into = columns.AsSpan(_clusters.Of[i] * ChangeDraws.Columns, ChangeDraws.Columns);
            into[0] += _shares[i].CallsBefore;
            into[1] += _shares[i].EffortBefore;
            into[2] += _shares[i].CallsNow;
            into[3] += _shares[i].EffortNow;
            if (Last is not { } last)
                continue;
            into[4] += _shares[i].Now[(int)last];
            into[5] += _shares[i].Before[(int)last];
        }
        return columns;
    }

    private void Take(int minimumClusters)
    {
        var logs = new List<double>();
        for (var step = ListeningStep.Stations; step <= ListeningStep.Method; step++)
        {
            int s = (int)step;
            Stop = StopAt(step, minimumClusters);
            double log = step == ListeningStep.Stations ? Crude() : Math.Log(_shares.Sum(share => share.Now[s]) / _shares.Sum(share => share.Before[s]));
            if (Stop == ChangeStop.None && !double.IsFinite(log))
                Stop = ChangeStop.FewHeard;
            if (Stop != ChangeStop.None)
                break;
            Informative = Count(i => _shares[i].Now[s] > 0 || _shares[i].Before[s] > 0);
            logs.Add(log);
        }
        Logs = logs;
    }

    private ChangeStop StopAt(ListeningStep step, int minimumClusters)
    {
        int s = (int)step;
        if (Count(i => _shares[i].Surveys[s] > 0) < minimumClusters)
            return ChangeStop.FewWetlands;
        if (_shares.Sum(share => share.Surveys[s]) < SmallestShare * _shares.Sum(share => share.Surveys[(int)ListeningStep.Stations]))
            return ChangeStop.FewSurveys;
        if (step >= ListeningStep.Observers && _shares.SelectMany(share => share.Observers).Distinct().Take(EvidenceRule.FewestObservers).Count() < EvidenceRule.FewestObservers)
            return ChangeStop.FewObservers;
        return Count(i => _shares[i].Now[s] > 0 || _shares[i].Before[s] > 0) < minimumClusters ? ChangeStop.FewHeard : ChangeStop.None;
    }

    /// <summary>All surveys of the stations that both times have.</summary>
    private double Crude()
    {
        double callsNow = 0, callsBefore = 0, effortNow = 0, effortBefore = 0;
        foreach (var share in _shares)
        {
            if (!share.Shared)
                continue;
            callsNow += share.CallsNow;
            callsBefore += share.CallsBefore;
            effortNow += share.EffortNow;
            effortBefore += share.EffortBefore;
        }
        return Math.Log(callsNow / effortNow / (callsBefore / effortBefore));
    }

    private int Count(Func<int, bool> counts)
    {
        var seen = new bool[_clusters.Count];
        for (int i = 0; i < _shares.Length; i++)
            seen[_clusters.Of[i]] |= counts(i);
        return seen.Count(each => each);
    }
}
