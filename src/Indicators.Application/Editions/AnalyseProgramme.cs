using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;
using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;
using NodaTime;

namespace Indicators.Application.Editions;

/// <summary>What to analyse, and how.</summary>
public sealed record AnalyseRequest
{
    /// <summary>Seed, resamples, last season.</summary>
    public RunOptions Run { get; init; } = new();

    /// <summary>Settings given with this run, which are stored; null for the stored ones, or the defaults when there are none.</summary>
    public ProgrammeSettings? Settings { get; init; }

    /// <summary>The name of the file the settings came in, without its path.</summary>
    public string SettingsFile { get; init; } = "";

    /// <summary>Who asked.</summary>
    public string Who { get; init; } = "";

    /// <summary>How many threads may work, at least 1. Changes nothing but the time.</summary>
    public int MaxThreads { get; init; } = Environment.ProcessorCount;
}

/// <summary>How far an analysis has come.</summary>
/// <param name="AreasDone">Areas finished, those of an interrupted run included.</param>
/// <param name="Areas">All areas.</param>
/// <param name="Share">The share of the work done, 0 to 1.</param>
/// <param name="Left">How long the rest takes at the pace of this run so far; null while that is anybody's guess.</param>
public readonly record struct AnalyseProgress(int AreasDone, int Areas, double Share, Duration? Left);

/// <summary>What an analysis came to: a draft, or the reason why there is none.</summary>
/// <param name="Draft">The draft's head, or null.</param>
/// <param name="Problem">Why there is no draft, or null.</param>
/// <param name="AreasTakenUp">How many areas an interrupted run had left finished.</param>
/// <param name="ThreadsUsed">The most threads that worked at once; no result depends on it.</param>
public sealed record AnalyseOutcome(EditionHeader? Draft, EditionProblem? Problem, int AreasTakenUp, int ThreadsUsed);

/// <summary>
/// Fits all areas and species and writes the draft edition. Finished areas are kept about every second, so that a run
/// that was stopped goes on where it was when it is asked for again with the same inputs, settings and choices.
/// </summary>
public sealed class AnalyseProgramme
{
    private static readonly Duration KeepEvery = Duration.FromSeconds(1);

    /// <summary>
    /// Areas of so many stations at most are done side by side, each on one thread: there is too little in them to share out. Of larger ones
    /// each has all threads, for what it works with takes as much memory as everything that is kept.
    /// </summary>
    private const int SideBySideStations = 200;

    /// <summary>So many at once, however many threads there are: each holds its draws, some 5 MB a species.</summary>
    private const int MostSideBySide = 4;

    /// <summary>No time left is told before a run has done so much of the work itself.</summary>
    private const double ShareToJudgeBy = 0.02;

    private readonly ISurveyStore _surveys;
    private readonly EditionStore _editions;
    private readonly PrepareAnalysis _prepare;
    private readonly IClock _clock;

    /// <summary>The use case on these stores.</summary>
    /// <param name="surveys">Where surveys are read from.</param>
    /// <param name="editions">Where the edition goes.</param>
    /// <param name="prepare">The engine.</param>
    /// <param name="clock">Says when the edition was made, and when to keep what is finished.</param>
    public AnalyseProgramme(ISurveyStore surveys, EditionStore editions, PrepareAnalysis prepare, IClock clock) =>
        (_surveys, _editions, _prepare, _clock) = (surveys, editions, prepare, clock);

    /// <summary>Runs the analysis.</summary>
    /// <param name="request">What and how.</param>
    /// <param name="progress">Told after every area; may be null.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>; what is finished is kept.</param>
    public AnalyseOutcome Run(AnalyseRequest request, IProgress<AnalyseProgress>? progress, CancellationToken cancel)
    {
        if (Begin(request, cancel) is not { } begun)
            return new AnalyseOutcome(null, new EditionProblem(EditionProblemKind.NothingToAnalyse, request.Run.ThroughSeason), 0, 0);
        var (analysis, work) = (begun.Analysis, begun.Work);
        var results = Areas(analysis, work, request.MaxThreads, progress, cancel);

        var areas = analysis.AreaSets.SelectMany(set => set.Areas).ToHashSet();
        ProgrammeResult together = null!;
        var places = ProgrammePlaces.Empty;
        Parallel.Invoke(
            new ParallelOptions { MaxDegreeOfParallelism = request.MaxThreads },
            () => together = analysis.Together(results, request.MaxThreads),
            () => places = analysis.Places());
        var content = new EditionContent(
            analysis.Counts,
            analysis.Warnings(results.SelectMany(result => result.Trends)),
            begun.Species,
            [.. begun.Shapes.Where(shape => areas.Contains(shape.Code)).Select(shape => new AreaShape(shape.Code, shape.GeometryJson))],
            together)
        {
            Places = places,
        };
        _editions.Complete(work.Number, content, _clock.GetCurrentInstant(), cancel);
        return new AnalyseOutcome(_editions.Draft(), null, work.Finished.Count, analysis.ThreadsUsed);
    }

    /// <summary>An analysis made ready, and its edition begun.</summary>
    private sealed record Begun(IProgrammeAnalysis Analysis, EditionWork Work, IReadOnlyList<Species> Species, IReadOnlyList<WatershedShape> Shapes);

    /// <summary>Reads the surveys and begins the edition; null when there is nothing to analyse. The surveys themselves are done with afterwards.</summary>
    private Begun? Begin(AnalyseRequest request, CancellationToken cancel)
    {
        var settings = Settings(request);
        var data = _surveys.Accepted();
        if (data.Surveys.Count == 0)
            return null;
        var shapes = _surveys.Reference().Shapes;
        IProgrammeAnalysis analysis = null!;
        string inputs = "", withheld = "";
        Parallel.Invoke(
            new ParallelOptions { MaxDegreeOfParallelism = request.MaxThreads },
            () => analysis = _prepare(data, settings, request.Run),
            () => (inputs, withheld) = (InputsHash.Of(data, shapes), InputsHash.Withheld(data)));
        if (analysis.AreaSets.Count == 0)
            return null;

        var engine = EngineIdentity.Current;
        var manifest = new EditionManifest
        {
            SchemaVersion = EditionLayout.Version,
            InputsSha256 = inputs,
            Settings = settings,
            Run = request.Run,
            EngineVersion = engine.Version,
            Runtime = engine.Runtime,
            Processor = engine.Processor,
        };
        var work = _editions.Begin(
            RunKey.Of(manifest, withheld, engine.Build), manifest, Redaction.Surveys(data, request.Run.ThroughSeason), cancel);
        return new Begun(analysis, work, data.Species, shapes);
    }

    private ProgrammeSettings Settings(AnalyseRequest request)
    {
        var stored = _surveys.Settings();
        if (request.Settings is not { } given)
            return stored ?? new ProgrammeSettings();
        if (stored is null || SettingsText.Write(stored) != SettingsText.Write(given))
        {
            _surveys.Import(
                new ImportBatch { Settings = given },
                new Origin(request.Who, _clock.GetCurrentInstant(), request.SettingsFile),
                progress: null,
                CancellationToken.None);
        }
        return given;
    }

    /// <summary>
    /// All areas' results: those an interrupted run left, and the others computed now, in the engine's order: large sets one after another with all
    /// threads inside, then small ones side by side.
    /// </summary>
    private AreaResult[] Areas(
        IProgrammeAnalysis analysis,
        EditionWork work,
        int maxThreads,
        IProgress<AnalyseProgress>? progress,
        CancellationToken cancel)
    {
        var results = work.Finished.ToDictionary(result => result.Area.Code);
        WatershedCode[] areas = [.. analysis.AreaSets.SelectMany(set => set.Areas)];
        AreaSet[] toDo =
        [
            .. analysis.AreaSets.Select(set => set with { Areas = [.. set.Areas.Where(area => !results.ContainsKey(area))] }).Where(set => set.Areas.Count > 0),
        ];
        double whole = areas.Sum(analysis.Work);
        long done = results.Keys.Sum(analysis.Work);
        var unkept = new List<AreaResult>();
        var began = _clock.GetCurrentInstant();
        var kept = began;
        double before = Share();
        Tell();
        try
        {
            foreach (var set in toDo.Where(set => set.Stations > SideBySideStations))
                Analyse(set, maxThreads);
            int sets = Math.Min(maxThreads, MostSideBySide);
            AreaSet[] small = [.. toDo.Where(set => set.Stations <= SideBySideStations)];
            SideBySide(small, sets, set => Analyse(set, maxThreads / sets), cancel);
        }
        finally
        {
            // Also when somebody stopped it: the next run takes these up.
            Keep();
        }
        return [.. areas.Select(area => results[area])];

        void Analyse(AreaSet set, int threads)
        {
            cancel.ThrowIfCancellationRequested();
            foreach (var result in analysis.Analyse(set.Areas, threads, cancel))
            {
                lock (unkept)
                {
                    results.Add(result.Area.Code, result.ForTogether());
                    unkept.Add(result);
                    done += analysis.Work(result.Area.Code);
                    if (_clock.GetCurrentInstant() - kept >= KeepEvery)
                        Keep();
                    Tell();
                }
            }
        }

        void Keep()
        {
            if (unkept.Count > 0)
                _editions.Add(work.Number, unkept);
            unkept.Clear();
            kept = _clock.GetCurrentInstant();
        }

        double Share() => whole > 0 ? done / whole : 1;

        void Tell()
        {
            double share = Share(), own = share - before;
            Duration? left = own < ShareToJudgeBy ? null : (_clock.GetCurrentInstant() - began) * ((1 - share) / own);
            progress?.Report(new AnalyseProgress(results.Count, areas.Length, share, left));
        }
    }

    /// <summary>Works on every item, in their order as far as threads are free; a failure is thrown as it was.</summary>
    private static void SideBySide<T>(IEnumerable<T> items, int threads, Action<T> work, CancellationToken cancel)
    {
        try
        {
            Parallel.ForEach(
                Partitioner.Create(items, EnumerablePartitionerOptions.NoBuffering),
                new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel },
                work);
        }
        catch (AggregateException failures)
        {
            ExceptionDispatchInfo.Throw(failures.InnerExceptions[0]);
        }
    }
}
