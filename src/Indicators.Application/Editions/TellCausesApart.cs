using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Storage.Surveys;

namespace Indicators.Application.Editions;

/// <summary>Which two editions.</summary>
public sealed record ApartRequest
{
    /// <summary>The later edition; null for the published one.</summary>
    public long? After { get; init; }

    /// <summary>The earlier edition; null for the one published before it.</summary>
    public long? Before { get; init; }

    /// <summary>How many threads may work, at least 1. Changes nothing but the time.</summary>
    public int MaxThreads { get; init; } = Environment.ProcessorCount;
}

/// <summary>What came of it.</summary>
/// <param name="Before">The earlier edition; 0 with a problem.</param>
/// <param name="After">The later one.</param>
/// <param name="Steps">The causes of each step kept, in order; empty with a problem, and where no more than one thing changed.</param>
/// <param name="Problem">Why nothing was kept, or null.</param>
public sealed record ApartOutcome(long Before, long After, IReadOnlyList<EditionCauses> Steps, EditionProblem? Problem);

/// <summary>
/// Finds out what each of several causes moved between two editions: it goes from the earlier to the later one with one thing
/// more changed each time, and keeps the results on the way. First today's engine on the earlier surveys, then corrections, then
/// new surveys, then settings, then the run. What a step moves is counted from the step before, so the steps add up exactly;
/// in another order they would share out otherwise.
/// </summary>
public sealed class TellCausesApart
{
    private const EditionCauses Corrections = EditionCauses.CorrectedData | EditionCauses.WithheldData;

    private readonly ISurveyStore _surveys;
    private readonly IEditionReader _editions;
    private readonly StepStore _steps;
    private readonly PrepareAnalysis _prepare;

    /// <summary>The use case on these stores.</summary>
    /// <param name="surveys">Where surveys are read from, as they stood for either edition.</param>
    /// <param name="editions">Where the editions are read from.</param>
    /// <param name="steps">Where the steps go.</param>
    /// <param name="prepare">The engine.</param>
    public TellCausesApart(ISurveyStore surveys, IEditionReader editions, StepStore steps, PrepareAnalysis prepare) =>
        (_surveys, _editions, _steps, _prepare) = (surveys, editions, steps, prepare);

    /// <summary>Runs it.</summary>
    /// <param name="request">Which editions.</param>
    /// <param name="progress">Told after every area; may be null.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>; nothing is kept then.</param>
    public ApartOutcome Run(ApartRequest request, IProgress<AnalyseProgress>? progress, CancellationToken cancel)
    {
        if ((request.After is { } asked ? _editions.ByNumber(asked) : _editions.Published()) is not { } after)
            return Problem(request.After is null ? EditionProblemKind.NothingPublished : EditionProblemKind.UnknownEdition, request.After);
        var compare = new CompareEditions(_editions);
        if ((request.Before ?? compare.Before(after.Number)) is not { } earlier)
            return Problem(EditionProblemKind.NoEditionBefore, after.Number);
        if (earlier >= after.Number)
            return Problem(EditionProblemKind.NotBefore, earlier);
        if (compare.Run(earlier, after.Number) is not { } pair)
            return Problem(EditionProblemKind.UnknownEdition, earlier);
        if (pair.CauseCount < 2)
            return new ApartOutcome(earlier, after.Number, [], null);
        var engine = EngineIdentity.Current;
        if ((engine.Version, engine.Runtime, engine.Processor, EditionLayout.Version)
            != (after.Manifest.EngineVersion, after.Manifest.Runtime, after.Manifest.Processor, after.Manifest.SchemaVersion))
            return Problem(EditionProblemKind.OtherEngine, after.Number);
        var now = _surveys.AcceptedAt(after.CreatedAt);
        if (InputsHash.Of(now, _surveys.Reference().Shapes) != after.Manifest.InputsSha256)
            return Problem(EditionProblemKind.OtherSurveys, after.Number);

        var steps = Steps(pair, now, request.MaxThreads, progress, cancel);
        if (steps.Count < 2)
            return Problem(EditionProblemKind.NotApart, earlier);
        _steps.Keep(earlier, after.Number, steps);
        return new ApartOutcome(earlier, after.Number, [.. steps.Select(step => step.Causes)], null);
    }

    private static ApartOutcome Problem(EditionProblemKind kind, long? number) => new(0, 0, [], new EditionProblem(kind, number));

    /// <summary>A point on the way: what is new at it, and what is analysed to get there.</summary>
    private sealed record Point(EditionCauses Causes, ProgrammeData Data, ProgrammeSettings Settings, RunOptions Run);

    private List<EditionStep> Steps(EditionComparison pair, ProgrammeData now, int maxThreads, IProgress<AnalyseProgress>? progress, CancellationToken cancel)
    {
        var (before, after) = (pair.Before, pair.After);
        var points = Points(pair, now);
        var both = _editions.Trends(before.Number).Select(trend => (trend.Area, trend.Species)).ToHashSet();
        both.IntersectWith(_editions.Trends(after.Number).Select(trend => (trend.Area, trend.Species)));
        var expected = _editions.Areas(before.Number).ToDictionary(area => area.Code, area => area.Expected);

        var steps = new List<EditionStep>();
        var together = EditionCauses.None;
        // The last point is the later edition, which is there.
        for (int i = 0; i < points.Count - 1; i++)
        {
            var analysis = _prepare(points[i].Data, points[i].Settings, points[i].Run);
            var (trends, conditions) = (new List<Trend>(), new List<Condition>());
            bool otherLists = false;
            var share = new Share(progress, analysis, i, points.Count - 1);
            foreach (var result in analysis.AreaSets.SelectMany(set => analysis.Analyse(set.Areas, maxThreads, cancel)))
            {
                trends.AddRange(result.Trends.Where(trend => both.Contains((trend.Area, trend.Species))));
                if (expected.TryGetValue(result.Area.Code, out var old))
                {
                    conditions.AddRange(result.Conditions.Where(condition => condition.Season == result.Area.LastSeason).Select(condition => condition with { Lines = [] }));
                    otherLists |= !old.SequenceEqual(result.Area.Expected);
                }
                share.Done(result.Area.Code);
            }
            together |= points[i].Causes;
            // Rows of expected species that were added since cannot be told from older ones: where they show, this step is not the engine alone.
            if (points[i].Causes == EditionCauses.NewEngine && pair.OtherExpected > 0 && otherLists)
                continue;
            steps.Add(new EditionStep(
                together,
                [.. trends.OrderBy(trend => trend.Area).ThenBy(trend => trend.Species)],
                [.. conditions.OrderBy(condition => condition.Area)]));
            together = EditionCauses.None;
        }
        steps.Add(new EditionStep(together | points[^1].Causes, [], []));
        return steps;
    }

    private List<Point> Points(EditionComparison pair, ProgrammeData now)
    {
        var (before, after, causes) = (pair.Before.Manifest, pair.After.Manifest, pair.Causes);
        bool otherData = (causes & (EditionCauses.NewData | Corrections)) != 0;
        var then = now;
        bool isKnown = true;
        var corrected = now;
        if (otherData)
        {
            then = _surveys.AcceptedAt(pair.Before.CreatedAt) with { Species = _editions.Species(pair.Before.Number) };
            isKnown = CompareEditions.Others(_editions.Surveys(pair.Before.Number), Redaction.Surveys(then, before.Run.ThroughSeason)).Count == 0;
            var old = then.Surveys.Select(survey => survey.Id).ToHashSet();
            old.UnionWith(_editions.Surveys(pair.Before.Number).Select(survey => survey.Id));
            corrected = now with { Surveys = [.. now.Surveys.Where(survey => old.Contains(survey.Id))] };
        }

        List<Point> all =
        [
            new(EditionCauses.NewEngine, then, before.Settings, before.Run),
            new(causes & Corrections, corrected, before.Settings, before.Run),
            new(EditionCauses.NewData, now, before.Settings, before.Run),
            new(EditionCauses.NewSettings, now, after.Settings, before.Run),
            new(EditionCauses.NewRun, now, after.Settings, after.Run),
        ];
        var points = all.Where(point => (point.Causes & causes) != 0).ToList();
        // Surveys that can no longer be had as they were: the engine's own part is not to be told from that of the next cause.
        if (points.Count > 1 && points[0].Causes == EditionCauses.NewEngine && !isKnown)
        {
            points[1] = points[1] with { Causes = points[0].Causes | points[1].Causes };
            points.RemoveAt(0);
        }
        return points;
    }

    /// <summary>Tells how far one of several runs is, as a part of all.</summary>
    private sealed class Share(IProgress<AnalyseProgress>? progress, IProgrammeAnalysis analysis, int run, int runs)
    {
        private readonly int _areas = analysis.AreaSets.Sum(set => set.Areas.Count);
        private readonly double _whole = analysis.AreaSets.SelectMany(set => set.Areas).Sum(analysis.Work);
        private long _work;
        private int _done;

        public void Done(WatershedCode area)
        {
            (_work, _done) = (_work + analysis.Work(area), _done + 1);
            progress?.Report(new AnalyseProgress(_done + run * _areas, runs * _areas, (run + _work / _whole) / runs, null));
        }
    }
}
