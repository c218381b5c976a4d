using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Changes;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Occupancy;
using Indicators.Analysis.Options;
using Indicators.Analysis.Places;
using Indicators.Analysis.Programme;
using Indicators.Analysis.Results;
using Indicators.Analysis.Score;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis;

/// <summary>
/// The analysis of a whole programme: surveys in, results out, no file and no sentence. Every area is a pure function of
/// its cells, the settings and the seed, so areas can be done in any order, stopped and gone on with.
/// </summary>
public sealed class ProgrammeAnalysis
{
    /// <summary>
    /// What an area costs whatever its size, in stations: with this a nation's programme went on at an even pace from 20,000 stations to 10 an area
    /// (docs/benchmarks.md).
    /// </summary>
    private const int WorkBesideStations = 40;

    private readonly ProgrammeData _data;
    private readonly ProgrammeSettings _settings;
    private readonly RunOptions _run;
    private readonly CellTable _cells;
    private readonly VisitFacts _visits;
    private readonly AreaTree _areas;
    private readonly IReadOnlyList<string> _secretNames;
    private readonly ExpectedLists _expected;
    private readonly Dictionary<int, HashSet<WatershedCode>> _tellable;
    private readonly VisitCovariates _covariates;
    private readonly CallingTimes _callingTimes;
    private readonly SharedListening _shared;
    private readonly ThreadGauge _threads = new();

    private ProgrammeAnalysis(ProgrammeData data, ProgrammeSettings settings, RunOptions run)
    {
        // Surveys are read here once and not kept.
        (_data, _settings, _run) = (data with { Surveys = [] }, settings, run);
        _cells = CellTable.Build(data, run.ThroughSeason, out var surveys);
        _covariates = VisitCovariates.Of(_cells.Visits, surveys, _cells.Stations, _cells.Species.Count, DateTimeZoneProviders.Tzdb[settings.TimeZone]);
        _visits = VisitFacts.Of(_cells, surveys, settings);
        _callingTimes = new CallingTimes(_cells, data.Expected);
        _shared = new SharedListening(_cells, _visits, settings.Response.Of(settings.Response.Kind));
        _secretNames = PlaceFacts.NamesOfProtected(_cells.Species);
        _areas = new AreaTree(_cells);
        _expected = new ExpectedLists(_cells, _areas, data.Expected, settings.Score);
        _tellable = Enumerable.Range(0, _cells.Species.Count).Where(k => _cells.Species[k].Protected)
            .ToDictionary(k => k, k => Disclosure.Tellable(_areas, _cells, k, settings.Disclosure.MinimumWetlands));
        AreaSets =
        [
            .. _areas.Nodes.GroupBy(n => n.Representative).OrderByDescending(set => set.First().Stations.Length).ThenBy(set => set.Key)
                .Select(set => new AreaSet([.. set.Select(n => n.Code).Order()], set.First().Stations.Length)),
        ];
        Areas = [.. AreaSets.SelectMany(set => set.Areas)];
        Counts = Count();
    }

    /// <summary>Makes the cells and finds the areas.</summary>
    /// <param name="data">Accepted surveys and everything they refer to.</param>
    /// <param name="settings">The programme's settings.</param>
    /// <param name="run">Seed, resamples, last season.</param>
    public static ProgrammeAnalysis Prepare(ProgrammeData data, ProgrammeSettings settings, RunOptions run) => new(data, settings, run);

    /// <summary>Every area to do, largest first; areas with the same stations stand together and share their fits.</summary>
    public IReadOnlyList<AreaSet> AreaSets { get; }

    /// <summary>Every area to do, in the order of <see cref="AreaSets"/>.</summary>
    public IReadOnlyList<WatershedCode> Areas { get; }

    /// <summary>How much went in.</summary>
    public EditionCounts Counts { get; }

    /// <summary>The most threads that fitted at once so far; no result depends on it.</summary>
    public int ThreadsUsed => _threads.Most;

    /// <summary>How much work an area is, in station-species; for telling progress and the time left.</summary>
    public long Work(WatershedCode area) => (long)(_areas[area].Stations.Length + WorkBesideStations) * _cells.Species.Count;

    /// <summary>Analyses one area.</summary>
    /// <param name="area">One of <see cref="Areas"/>.</param>
    /// <param name="maxThreads">At least 1; changes nothing but the time.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>.</param>
    public AreaResult Analyse(WatershedCode area, int maxThreads, CancellationToken cancel) => Analyse([area], maxThreads, cancel).Single();

    /// <summary>Analyses areas with the same stations. Sets may be analysed side by side; inside each, up to <paramref name="maxThreads"/> threads work.</summary>
    /// <param name="areas">Some of one of <see cref="AreaSets"/>, at least one.</param>
    /// <param name="maxThreads">At least 1; changes nothing but the time.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>.</param>
    /// <returns>One result an area, in their order, each made when it is asked for; the fits they share are made with the first.</returns>
    public IEnumerable<AreaResult> Analyse(IReadOnlyList<WatershedCode> areas, int maxThreads, CancellationToken cancel)
    {
        var node = _areas[areas[0]];
        var parallel = new ParallelOptions { MaxDegreeOfParallelism = maxThreads, CancellationToken = cancel };
        var fit = AreaFit.Of(_cells, node, _settings, _run, _threads, parallel);
        var adjusted = AdjustedArea.Of(_cells, _covariates, fit, _settings, _run, parallel);
        var smooth = SmoothArea.Of(_cells, fit, _settings, _run, parallel);
        var listening = new AreaListening(_cells, node);
        var changes = CallingChanges.Of(_shared, _cells, fit, listening.Seasons[^1], _settings.Trend, _run, parallel);
        foreach (var area in areas)
        {
            cancel.ThrowIfCancellationRequested();
            yield return Tell(area, node, fit, adjusted, smooth, listening, changes, parallel);
        }
    }

    private AreaResult Tell(
        WatershedCode area, AreaNode node, AreaFit fit, AdjustedArea adjusted, SmoothArea smooth, AreaListening listening, CallingChanges changes, ParallelOptions parallel)
    {
        int[] told = [.. Enumerable.Range(0, _cells.Species.Count).Where(k => MayTell(k, area))];
        var (wholeList, given) = _expected.Of(area);
        int[] expected = [.. wholeList.Intersect(told)];
        var groups = SpeciesGroups.Of(_cells.Species, told, _settings.Group).ToArray();
        var fits = new List<(int[] Species, GroupFit Fit)>();
        GroupFit FitOf(int[] species)
        {
            // The same species, the same fit: groups often coincide.
            foreach (var known in fits)
                if (known.Species.AsSpan().SequenceEqual(species)) return known.Fit;
            var made = GroupFit.Of(fit, species, _settings.Group, _run.Resamples, parallel);
            fits.Add((species, made));
            return made;
        }

        var ofExpected = FitOf(expected);
        var score = new ConditionScore(fit, ofExpected, listening, _cells.Species, expected, _settings, _run.Resamples);
        var trends = new Trend[told.Length];
        var indices = new IndexPoint[told.Length][];
        var variants = new TrendVariant[told.Length][];
        var parts = new SlopeForPooling?[told.Length];
        var effects = new CovariateEffect[told.Length][];
        var courses = new (IReadOnlyList<SmoothPoint> Points, IReadOnlyList<SmoothChange> Changes)[told.Length];
        var evidence = new SeriesEvidence[told.Length];
        var times = new CallingTime[told.Length];
        var clusters = AreaClusters.In(_cells, node);
        var conditions = score.Seasons(area, parallel);
        var (silences, tallies) = new StationSilences(_cells, _settings.Occupancy, _settings.Score.WindowSeasons).Of(_areas[area], fit.Occupancy);
        Parallel.For(0, told.Length, parallel, i =>
        {
            var (id, isProtected) = (_cells.Species[told[i]].Id, _cells.Species[told[i]].Protected);
            using var _ = fit.Species[told[i]].Series.Hold();
            var without = LeaveOneOut.Of(fit.Species[told[i]]);
            trends[i] = TrendResult.Of(fit, told[i], area, id, _settings, without);
            evidence[i] = EvidenceResult.Of(
                fit.Species[told[i]], without, trends[i], ListeningFacts.Of(_cells, _visits, node, told[i]), clusters, _settings);
            variants[i] =
            [
                .. VariantResult.All(fit, told[i], area, id, _settings).Append(AdjustedResult.Trend(adjusted, fit, told[i], area, id, _settings))
                    .OrderBy(row => ResultCode.Of(row.Response), StringComparer.Ordinal)
                    .ThenBy(row => ResultCode.Of(row.Model), StringComparer.Ordinal)
                    .ThenBy(row => ResultCode.Of(row.Window), StringComparer.Ordinal),
            ];
            effects[i] = [.. AdjustedResult.Effects(adjusted, told[i], area, id, _settings.Trend)];
            courses[i] = SmoothResult.Of(smooth, fit.Species[told[i]].Series, area, id, _settings.Trend);
            indices[i] = [.. IndexResult.Of(fit, told[i], area, id, _settings.Trend)];
            parts[i] = PoolingPart.Of(fit, told[i], area, id, _settings.Trend);
            times[i] = _callingTimes.Of(node, area, told[i]);
            if (!isProtected)
                return;
            trends[i] = ProtectedResults.Of(trends[i]);
            evidence[i] = ProtectedResults.Of(evidence[i]);
            variants[i] = [.. variants[i].Select(ProtectedResults.Of)];
            effects[i] = [.. effects[i].Select(ProtectedResults.Of)];
            indices[i] = [.. ProtectedResults.Of(indices[i], fit.Occupancy[told[i]].WetlandsSurveyed, _settings.Disclosure.MinimumWetlands)];
        });

        var groupTrends = new GroupTrend[groups.Length];
        Parallel.For(0, groups.Length, parallel, i => groupTrends[i] = GroupTrendResult.Of(fit, area, groups[i].Group, groups[i].Species, _settings.Trend));

        return new AreaResult
        {
            Area = new Area
            {
                Code = area,
                Name = PlaceFacts.NameToTell(_data.Watersheds.FirstOrDefault(w => w.Code == area)?.Name, _secretNames),
                Stations = node.Stations.Length,
                Wetlands = listening.Wetlands,
                Surveys = listening.Surveys,
                FirstSeason = listening.Seasons[0],
                LastSeason = listening.Seasons[^1],
                Expected = [.. expected.Select(k => _cells.Species[k].Id)],
                ExpectedIsGiven = given,
            },
            Effort = listening.Effort(area),
            Trends = trends,
            Indices = [.. indices.SelectMany(i => i)],
            // Again of those that have an index.
            Group = [.. groups.Select(g => (g.Group, Fit: FitOf(g.Species)))
                .Where(g => SpeciesGroups.IsOne(g.Group, g.Fit.Species.Length))
                .SelectMany(g => g.Fit.Points(area, g.Group, _settings.Trend))],
            Variants = [.. variants.SelectMany(v => v)],
            Evidence = evidence,
            Conditions = conditions,
            GroupTrends = groupTrends,
            PoolingParts = [.. parts.OfType<SlopeForPooling>()],
            Effects = [.. effects.SelectMany(e => e)],
            Smooth = [.. courses.SelectMany(c => c.Points)],
            Changes = [.. courses.SelectMany(c => c.Changes)],
            Occupancy = [.. told.SelectMany(k => fit.Occupancy[k].Points(area, _cells.Species[k]))],
            OccupancyRates = [.. told.Select(k => fit.Occupancy[k].Rates(area, _cells.Species[k]))],
            Detection = [.. told.SelectMany(k => fit.Occupancy[k].Detection(area, _cells.Species[k]))],
            Silences = silences,
            SilenceTallies = tallies,
            CallingTimes = times,
            CallingChanges = changes.Told(area, _cells.Species, told),
            ScoreChanges = new ScoreChanges(_shared, node, clusters, _cells, fit, ofExpected, expected, _settings, parallel).Of(score, conditions),
            Gaps = listening.Gaps(area, expected),
        };
    }

    /// <summary>What to know about an edition, from all its trends.</summary>
    /// <param name="trends">Every trend of every area.</param>
    public IReadOnlyList<EditionWarning> Warnings(IEnumerable<Trend> trends)
    {
        var named = _data.Watersheds.Select(w => w.Code).ToHashSet();
        (EditionWarningKind Kind, int Count)[] warnings =
        [
            (EditionWarningKind.SurveysOutsideEveryWindow, _cells.OutsideEveryWindow),
            (EditionWarningKind.StationsNeverSurveyed, _areas.NeverSurveyed),
            (EditionWarningKind.SeriesNearCeiling, trends.Count(t => t.CeilingShare >= _settings.Trend.CeilingWarningShare)),
            (EditionWarningKind.SeriesKeptBack, _tellable.Sum(p => _areas.Nodes.Count - p.Value.Count)),
            (EditionWarningKind.WatershedsWithoutName, _areas.Nodes.Count(n => !named.Contains(n.Code))),
        ];
        return [.. warnings.Where(w => w.Count > 0).Select(w => new EditionWarning(w.Kind, w.Count))];
    }

    /// <summary>What only all areas together tell: pooled and shrunken slopes, and indices rolled up beside the direct ones.</summary>
    /// <param name="results">Every area's result, in any order.</param>
    /// <param name="maxThreads">At least 1; changes nothing but the time.</param>
    public ProgrammeResult Together(IReadOnlyList<AreaResult> results, int maxThreads)
    {
        var (pooled, shrunken) = PooledResults.Of(results, _settings.Trend, maxThreads);
        return new ProgrammeResult { Pooled = pooled, Shrunken = shrunken, RollUps = RollUpResults.Of(results) };
    }

    /// <summary>The programme's places as an edition may tell them.</summary>
    public ProgrammePlaces Places() => PlaceFacts.Of(_cells, _data, _areas.Nodes.Select(node => node.Code).ToHashSet());

    private bool MayTell(int species, WatershedCode area) => !_tellable.TryGetValue(species, out var told) || told.Contains(area);

    private EditionCounts Count()
    {
        int[] stations = [.. _areas.Nodes.Where(n => n.Code.Parent is null).SelectMany(n => n.Stations).Distinct()];
        int[] years = [.. Enumerable.Range(0, _cells.Years).Where(y => stations.Any(s => _cells.Surveys(s, y) > 0)).Select(y => y + _cells.FirstYear)];
        return new EditionCounts(
            stations.Sum(s => Enumerable.Range(0, _cells.Years).Sum(y => _cells.Surveys(s, y))),
            stations.Length,
            stations.Select(s => _cells.Stations[s].Wetland).Distinct().Count(),
            _cells.Species.Count,
            _areas.Nodes.Count,
            years.FirstOrDefault(),
            years.LastOrDefault());
    }
}
