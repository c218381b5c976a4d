using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Application.Editions;

/// <summary>The engine as the use cases see it: areas to do, each a pure function of its cells.</summary>
public interface IProgrammeAnalysis
{
    /// <summary>All areas, in the order they should be done and stand in the edition.</summary>
    IReadOnlyList<AreaSet> AreaSets { get; }

    /// <summary>How much goes in.</summary>
    EditionCounts Counts { get; }

    /// <summary>How much work an area is, in any unit; for telling progress.</summary>
    long Work(WatershedCode area);

    /// <summary>Analyses areas with the same stations.</summary>
    /// <param name="areas">Some of one of <see cref="AreaSets"/>.</param>
    /// <param name="maxThreads">At least 1; changes nothing but the time.</param>
    /// <param name="cancel">Stops soon, by <see cref="OperationCanceledException"/>.</param>
    /// <returns>One result an area, in their order, each made when it is asked for.</returns>
    IEnumerable<AreaResult> Analyse(IReadOnlyList<WatershedCode> areas, int maxThreads, CancellationToken cancel);

    /// <summary>The most threads that worked at once so far; no result depends on it.</summary>
    int ThreadsUsed { get; }

    /// <summary>What to know about an edition, from every trend of every area.</summary>
    IReadOnlyList<EditionWarning> Warnings(IEnumerable<Trend> trends);

    /// <summary>What only all areas together tell.</summary>
    /// <param name="results">Every area's result.</param>
    /// <param name="maxThreads">At least 1; changes nothing but the time.</param>
    ProgrammeResult Together(IReadOnlyList<AreaResult> results, int maxThreads);

    /// <summary>The programme's places as an edition may tell them.</summary>
    ProgrammePlaces Places();
}

/// <summary>Makes an analysis ready.</summary>
public delegate IProgrammeAnalysis PrepareAnalysis(ProgrammeData data, ProgrammeSettings settings, RunOptions run);
