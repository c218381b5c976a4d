using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Changes;

/// <summary>The changes of calling of one area's species, for every area with the same stations alike.</summary>
internal sealed class CallingChanges
{
    private static readonly ChangeSince[] Both = Enum.GetValues<ChangeSince>();

    private readonly Comparison[] _made;

    private CallingChanges(AreaNode area, Comparison[] made) => (Area, _made) = (area, made);

    /// <summary>The area they were worked out for.</summary>
    public AreaNode Area { get; }

    /// <summary>Compares the area's last season with the one before it and with the baseline.</summary>
    /// <param name="listening">What stations share.</param>
    /// <param name="cells">The cells.</param>
    /// <param name="fit">The area's fits: which seasons are each species' baseline.</param>
    /// <param name="season">The area's last season with surveys.</param>
    /// <param name="options">Fewest clusters, confidence.</param>
    /// <param name="run">Seed and number of resamples.</param>
    /// <param name="parallel">How many threads may work.</param>
    public static CallingChanges Of(
        SharedListening listening, CellTable cells, AreaFit fit, int season, TrendOptions options, RunOptions run, ParallelOptions parallel)
    {
        var clusters = AreaClusters.In(cells, fit.Area);
        var made = new Comparison?[cells.Species.Count * Both.Length];
        Parallel.For(0, cells.Species.Count, parallel, k =>
        {
            foreach (var since in Both)
            {
                if (Before(fit.Species[k].Series, season, since) is not { Length: > 0 } before)
                    continue;
                var chain = ListeningChain.Of(listening, fit.Area, clusters, k, before, [season], options.MinimumClusters);
                made[k * Both.Length + (int)since] = new Comparison(k, since, before, season, chain);
            }
        });
        Comparison[] found = [.. made.OfType<Comparison>()];
        Comparison[] told = [.. found.Where(comparison => double.IsFinite(comparison.Chain.All))];
        if (told.Length > 0)
        {
            var plan = new ResamplingPlan(run.Seed, AreaFit.StreamOf(fit.Area.Representative), clusters.Count);
            var draws = ChangeDraws.Of(plan, [.. told.Select(comparison => comparison.Chain.Columns)], options, run.Resamples, parallel);
            Parallel.For(0, told.Length, parallel, i =>
            {
                int heard = fit.Species[told[i].Species].Clusters[^1];
                told[i].All = draws.All(i, told[i].Chain.All, heard);
                if (told[i].Chain.Last is not null)
                    told[i].Shared = draws.Shared(i, told[i].Chain.Logs[^1], told[i].Chain.Informative);
            });
        }
        return new CallingChanges(fit.Area, found);
    }

    /// <summary>The seasons it is set beside, of those with surveys at a station that ever heard the species; empty for none.</summary>
    private static int[] Before(SpeciesSeries series, int season, ChangeSince since)
    {
        int at = Array.IndexOf(series.Seasons, season);
        if (at < 0)
            return [];
        if (since == ChangeSince.PreviousSeason)
            return at == 0 ? [] : [series.Seasons[at - 1]];
        return series.Baseline[at] ? [] : [.. series.Seasons.Where((earlier, t) => series.Baseline[t] && earlier < season)];
    }

    /// <summary>The rows of one area.</summary>
    /// <param name="area">The area they are told of.</param>
    /// <param name="species">All species.</param>
    /// <param name="told">Which may be told of there, ascending.</param>
    public IReadOnlyList<CallingChange> Told(WatershedCode area, IReadOnlyList<Species> species, int[] told) =>
        [.. _made.Where(comparison => told.Contains(comparison.Species)).Select(comparison => comparison.Row(area, species[comparison.Species].Id))];

    private sealed record Comparison(int Species, ChangeSince Since, int[] Before, int Season, ListeningChain Chain)
    {
        public (double? Lower, double? Upper) All { get; set; }

        public (double? Lower, double? Upper) Shared { get; set; }

        public CallingChange Row(WatershedCode area, Id<Species> id)
        {
            bool told = double.IsFinite(Chain.All);
            return new CallingChange
            {
                Area = area,
                Species = id,
                Since = Since,
                FromFirst = Before[0],
                FromLast = Before[^1],
                Season = Season,
                SurveysBefore = Chain.SurveysBefore,
                SurveysNow = Chain.SurveysNow,
                MeanBefore = Chain.MeanBefore,
                MeanNow = Chain.MeanNow,
                Total = told ? Chain.All : null,
                TotalLower = All.Lower,
                TotalUpper = All.Upper,
                Stations = Line(ListeningStep.Stations),
                Visits = Line(ListeningStep.Visits),
                Windows = Line(ListeningStep.Windows),
                Observers = Line(ListeningStep.Observers),
                Method = Line(ListeningStep.Method),
                Heard = told ? Chain.Logs.Count == 0 ? Chain.All : Chain.Logs[^1] : null,
                HeardLower = Shared.Lower,
                HeardUpper = Shared.Upper,
                Stop = Chain.Stop,
                StoppedAt = Chain.Stop != ChangeStop.None ? (ListeningStep)Chain.Logs.Count : null,
                SharedWetlands = Chain.SharedClusters,
                SharedSurveys = Chain.SharedSurveys,
            };
        }

        private double? Line(ListeningStep step)
        {
            int s = (int)step;
            return s >= Chain.Logs.Count ? null : (s == 0 ? Chain.All : Chain.Logs[s - 1]) - Chain.Logs[s];
        }
    }
}
