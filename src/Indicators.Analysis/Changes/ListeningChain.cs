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
    public bool SharedHeardBefore { get; private init; }

    /// <summary>The same, the later time.</summary>
    public bool SharedHeardNow { get; private init; }

    /// <summary>The last step taken; null for none.</summary>
    public ListeningStep? Last => Logs.Count == 0 ? null : (ListeningStep)(Logs.Count - 1);

    /// <summary>Surveys that both times share after the last step; all when none was taken.</summary>
    public int SharedSurveys { get; private set; }

    /// <summary>Which clusters they lie in.</summary>
    public int SharedClusters { get; private set; }

    /// <summary>What each cluster brings to the ratio of all surveys and to that of the last step: six sums a cluster.</summary>
    public double[] Columns { get; private set; } = [];

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
        var shares = listening.Of(area.Stations, species, before, now);
        double meanBefore = shares.Sum(s => s.CallsBefore) / shares.Sum(s => s.EffortBefore), meanNow = shares.Sum(s => s.CallsNow) / shares.Sum(s => s.EffortNow);
        var chain = new ListeningChain
        {
            All = Math.Log(meanNow / meanBefore),
            MeanBefore = meanBefore,
            MeanNow = meanNow,
            SurveysBefore = shares.Sum(s => s.SurveysBefore),
            SurveysNow = shares.Sum(s => s.SurveysNow),
            SharedHeardBefore = shares.Any(s => s.Shared && s.CallsBefore > 0),
            SharedHeardNow = shares.Any(s => s.Shared && s.CallsNow > 0),
        };
        var work = new ClusteredShares(shares, clusters);
        if (double.IsFinite(chain.All))
            chain.Take(work, minimumClusters);
        else
            chain.Stop = ChangeStop.FewHeard;
        chain.SharedSurveys = chain.Last is { } last ? shares.Sum(share => share.Surveys[(int)last]) : chain.SurveysBefore + chain.SurveysNow;
        chain.SharedClusters = work.Count(share => chain.Last is { } step ? share.Surveys[(int)step] > 0 : share.SurveysBefore + share.SurveysNow > 0);
        chain.Columns = work.Columns(chain.Last);
        return chain;
    }

    private void Take(ClusteredShares shares, int minimumClusters)
    {
        var logs = new List<double>();
        for (var step = ListeningStep.Stations; step <= ListeningStep.Method; step++)
        {
            Stop = shares.StopAt(step, minimumClusters);
            double log = shares.LogAt(step);
            if (Stop == ChangeStop.None && !double.IsFinite(log))
                Stop = ChangeStop.FewHeard;
            if (Stop != ChangeStop.None)
                break;
            Informative = shares.CountHeard(step);
            logs.Add(log);
        }
        Logs = logs;
    }

    /// <summary>The stations' shares by cluster. They are let go when the chain is made: a nation's would be most of what an area holds.</summary>
    private readonly struct ClusteredShares(StationShare[] shares, AreaClusters clusters)
    {
        public double[] Columns(ListeningStep? last)
        {
            var columns = new double[clusters.Count * ChangeDraws.Columns];
            for (int i = 0; i < shares.Length; i++)
            {
                var into = columns.AsSpan(clusters.Of[i] * ChangeDraws.Columns, ChangeDraws.Columns);
                into[0] += shares[i].CallsBefore;
                into[1] += shares[i].EffortBefore;
                into[2] += shares[i].CallsNow;
                into[3] += shares[i].EffortNow;
                if (last is not { } step)
                    continue;
                into[4] += shares[i].Now[(int)step];
                into[5] += shares[i].Before[(int)step];
            }
            return columns;
        }

        public ChangeStop StopAt(ListeningStep step, int minimumClusters)
        {
            int s = (int)step;
            if (Count(share => share.Surveys[s] > 0) < minimumClusters)
                return ChangeStop.FewWetlands;
            if (shares.Sum(share => share.Surveys[s]) < SmallestShare * shares.Sum(share => share.Surveys[(int)ListeningStep.Stations]))
                return ChangeStop.FewSurveys;
            if (step >= ListeningStep.Observers && shares.SelectMany(share => share.Observers[s]).Distinct().Take(EvidenceRule.FewestObservers).Count() < EvidenceRule.FewestObservers)
                return ChangeStop.FewObservers;
            return CountHeard(step) < minimumClusters ? ChangeStop.FewHeard : ChangeStop.None;
        }

        /// <summary>Clusters that share listening under a step and heard it.</summary>
        public int CountHeard(ListeningStep step) => Count(share => share.Now[(int)step] > 0 || share.Before[(int)step] > 0);

        /// <summary>ln of the ratio under a step; of the first, over all surveys of the stations that both times have.</summary>
        public double LogAt(ListeningStep step)
        {
            int s = (int)step;
            if (step != ListeningStep.Stations)
                return Math.Log(shares.Sum(share => share.Now[s]) / shares.Sum(share => share.Before[s]));
            double callsNow = 0, callsBefore = 0, effortNow = 0, effortBefore = 0;
            foreach (var share in shares)
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

        public int Count(Func<StationShare, bool> counts)
        {
            var seen = new bool[clusters.Count];
            for (int i = 0; i < shares.Length; i++)
                seen[clusters.Of[i]] |= counts(shares[i]);
            return seen.Count(each => each);
        }
    }
}
