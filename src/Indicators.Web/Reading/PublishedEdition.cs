using System.Collections.Concurrent;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>The edition that pages show: what every page needs of it, and its results for the asking.</summary>
internal sealed partial class PublishedEdition
{
    private readonly IEditionReader _reader;
    private readonly Dictionary<WatershedCode, Area> _areas;
    private readonly Dictionary<Id<Species>, Species> _species;
    private readonly ConcurrentDictionary<string, IReadOnlyList<Species>> _byName = new(StringComparer.Ordinal);

    public PublishedEdition(EditionHeader header, IEditionReader reader)
    {
        _reader = reader;
        Header = header;
        var areas = reader.Areas(header.Number);
        Tree = new AreaTree(areas);
        Shapes = reader.Shapes(header.Number);
        _areas = areas.ToDictionary(area => area.Code);
        _species = reader.Species(header.Number).ToDictionary(species => species.Id);
    }

    public EditionHeader Header { get; }

    public ProgrammeSettings Settings => Header.Manifest.Settings;

    public AreaTree Tree { get; }

    /// <summary>All species by the name pages call them.</summary>
    public IReadOnlyList<Species> Species => _byName.GetOrAdd(
        Language.Current.Tag,
        (_, species) => [.. species.OrderBy(SpeciesNames.Inside, StringComparer.Create(Language.Current.Culture, ignoreCase: true))],
        _species.Values);

    public IReadOnlyList<AreaShape> Shapes { get; }

    public Area? AreaOf(WatershedCode code) => _areas.GetValueOrDefault(code);

    public Species? SpeciesOf(Id<Species> id) => _species.GetValueOrDefault(id);

    public static string NameOf(Area area) => area.Name ?? PageWords.Unnamed(area.Code.ToString());

    public string NameOf(WatershedCode code) => AreaOf(code) is { } area ? NameOf(area) : PageWords.Unnamed(code.ToString());

    public string NameOf(Id<Species> id) => SpeciesOf(id) is { } species ? SpeciesNames.Inside(species) : id.ToString();

    public TrendTopic Topic(Trend trend) => new(trend, NameOf(trend.Species), NameOf(trend.Area), Settings.Trend);

    public ConditionTopic Topic(Condition condition) =>
        new(condition, NameOf(condition.Area), AreaOf(condition.Area)?.ExpectedIsGiven ?? false, Settings);

    public IReadOnlyList<Trend> TrendsOf(WatershedCode area) => _reader.Trends(Header.Number, area);

    public IReadOnlyList<Trend> TrendsOf(Id<Species> species) => _reader.Trends(Header.Number, species: species);

    public IReadOnlyList<Trend> Trends() => _reader.Trends(Header.Number);

    public IReadOnlyList<SeriesEvidence> EvidenceOf(WatershedCode area) => _reader.Evidence(Header.Number, area);

    public IReadOnlyList<SeriesEvidence> EvidenceOf(Id<Species> species) => _reader.Evidence(Header.Number, species: species);

    public IReadOnlyList<IndexPoint> IndicesOf(WatershedCode area) => _reader.Indices(Header.Number, area);

    public IReadOnlyList<IndexPoint> IndicesOf(Id<Species> species) => _reader.Indices(Header.Number, species: species);

    public IReadOnlyList<GroupIndexPoint> GroupOf(WatershedCode area) =>
        [.. _reader.Group(Header.Number, area).Where(point => point.Group == SpeciesGroup.All)];

    public IReadOnlyList<Condition> ConditionsOf(WatershedCode area) => _reader.Conditions(Header.Number, area);

    /// <summary>Every area's condition in the last season of the edition.</summary>
    public IReadOnlyDictionary<WatershedCode, Condition> LatestConditions() => ConditionsOf(Header.Counts.LastSeason);

    public IReadOnlyList<SeasonEffort> EffortOf(WatershedCode area) => _reader.Effort(Header.Number, area);

    public IReadOnlyList<SeasonEffort> Effort() => _reader.Effort(Header.Number);

    /// <summary>Every area's condition in one season.</summary>
    public Dictionary<WatershedCode, Condition> ConditionsOf(int season) =>
        _reader.Conditions(Header.Number, season: season).ToDictionary(condition => condition.Area);

    public IReadOnlyList<SeasonGap> GapsOf(int season) => _reader.Gaps(Header.Number, season: season);

    public IReadOnlyList<ScoreChange> ScoreChanges() => _reader.ScoreChanges(Header.Number);

    public IReadOnlyList<CallingChange> CallingChangesOf(WatershedCode area) => _reader.CallingChanges(Header.Number, area);

    public IReadOnlyList<SeriesEvidence> Evidence() => _reader.Evidence(Header.Number);

    public IReadOnlyList<SilenceTally> SilenceTallies() => _reader.SilenceTallies(Header.Number);
}
