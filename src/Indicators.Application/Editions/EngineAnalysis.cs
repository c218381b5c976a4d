using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Application.Editions;

/// <summary>The engine this program carries, behind the shape the use cases ask for.</summary>
public sealed class EngineAnalysis : IProgrammeAnalysis
{
    private readonly ProgrammeAnalysis _engine;

    private EngineAnalysis(ProgrammeAnalysis engine) => _engine = engine;

    /// <summary>Makes an analysis ready.</summary>
    public static IProgrammeAnalysis Prepare(ProgrammeData data, ProgrammeSettings settings, RunOptions run) =>
        new EngineAnalysis(ProgrammeAnalysis.Prepare(data, settings, run));

    /// <inheritdoc/>
    public IReadOnlyList<AreaSet> AreaSets => _engine.AreaSets;

    /// <inheritdoc/>
    public EditionCounts Counts => _engine.Counts;

    /// <inheritdoc/>
    public long Work(WatershedCode area) => _engine.Work(area);

    /// <inheritdoc/>
    public IEnumerable<AreaResult> Analyse(IReadOnlyList<WatershedCode> areas, int maxThreads, CancellationToken cancel) =>
        _engine.Analyse(areas, maxThreads, cancel);

    /// <inheritdoc/>
    public int ThreadsUsed => _engine.ThreadsUsed;

    /// <inheritdoc/>
    public IReadOnlyList<EditionWarning> Warnings(IEnumerable<Trend> trends) => _engine.Warnings(trends);

    /// <inheritdoc/>
    public ProgrammeResult Together(IReadOnlyList<AreaResult> results, int maxThreads) => _engine.Together(results, maxThreads);

    /// <inheritdoc/>
    public ProgrammePlaces Places() => _engine.Places();
}
