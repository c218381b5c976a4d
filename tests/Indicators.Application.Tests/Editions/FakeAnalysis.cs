using Indicators.Analysis;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Application.Editions;
using Indicators.Monitoring;

namespace Indicators.Application.Tests.Editions;

/// <summary>
/// Stands in for the engine: one area a code that a station implies, with results made from the seed alone, so that a
/// resumed run can be compared with a whole one.
/// </summary>
internal sealed class FakeAnalysis : IProgrammeAnalysis
{
    private readonly ProgrammeData _data;
    private readonly RunOptions _run;
    private readonly List<Survey> _used;
    private readonly WatershedCode[] _areas;

    internal FakeAnalysis(ProgrammeData data, ProgrammeSettings settings, RunOptions run)
    {
        (_data, _run, Settings) = (data, run, settings);
        _used = [.. data.Surveys.Where(survey => survey.Date.Year <= (run.ThroughSeason ?? int.MaxValue))];
        _areas = _used.Count == 0 ? [] : [.. data.Stations.SelectMany(station => station.Watershed.SelfAndAncestors()).Distinct().Order()];
    }

    internal ProgrammeSettings Settings { get; }

    /// <summary>How many stations each set of areas has: enough to be done one after another.</summary>
    internal int Stations { get; set; } = int.MaxValue;

    /// <summary>The areas analysed so far, in order.</summary>
    internal List<WatershedCode> Done { get; } = [];

    /// <summary>Called before each area.</summary>
    internal Action<WatershedCode> Before { get; set; } = _ => { };

    public IReadOnlyList<AreaSet> AreaSets => [.. _areas.Select(area => new AreaSet([area], Stations))];

    public EditionCounts Counts => new(_used.Count, 2, 2, _data.Species.Count, _areas.Length, 2020, 2020);

    public int ThreadsUsed => Done.Count == 0 ? 0 : 1;

    public long Work(WatershedCode area) => area.Digits;

    public IEnumerable<AreaResult> Analyse(IReadOnlyList<WatershedCode> areas, int maxThreads, CancellationToken cancel) =>
        areas.Select(area => Analyse(area, cancel));

    private AreaResult Analyse(WatershedCode area, CancellationToken cancel)
    {
        Before(area);
        cancel.ThrowIfCancellationRequested();
        lock (Done)
            Done.Add(area);
        return new AreaResult
        {
            Area = new Area { Code = area, Name = $"Area {area}", FirstSeason = 2020, LastSeason = 2020 },
            Effort = [new SeasonEffort(area, 2020, 2, 2, _used.Count)],
            Trends = [.. _data.Species.Where(species => !species.Protected).Select(species => new Trend
            {
                Area = area,
                Species = species.Id,
                Status = TrendStatus.Estimated,
                PercentPerSeason = (double)_run.Seed / area.Digits,
                Interval = IntervalKind.FewClusters,
            })],
            Indices = [],
            Group = [],
            Conditions = [],
            PoolingParts = [.. _data.Species.Where(species => !species.Protected).Select(species => new SlopeForPooling
            {
                Area = area,
                Species = species.Id,
                Slope = 1.0 / _run.Seed,
                Information = 1,
                Clusters = 1,
                ResponseByLag = [1],
                CarryOverEvidence = [],
                Seasons = [new SeasonForPooling(2020, 1.0 / 3, area.Digits)],
            })],
        };
    }

    public IReadOnlyList<EditionWarning> Warnings(IEnumerable<Trend> trends) =>
        [new EditionWarning(EditionWarningKind.SeriesNearCeiling, trends.Count())];

    public ProgrammePlaces Places() => ProgrammePlaces.Empty;

    /// <summary>One row an area, made from what the area brings to pooling, so that a resumed run must have it too.</summary>
    public ProgrammeResult Together(IReadOnlyList<AreaResult> results, int maxThreads) => new()
    {
        RollUps = [.. results.SelectMany(result => result.PoolingParts).Select(part => new RollUp
        {
            Area = part.Area,
            Species = part.Species,
            Season = part.Seasons[0].Season,
            DirectIndex = part.Slope,
            RolledUpIndex = part.Seasons[0].Leverage,
            Areas = (int)part.Seasons[0].Residual,
            StationShare = 1,
        })],
    };
}
