using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;

namespace Indicators.Web.Pages;

/// <summary>The whole programme: its sentence, its map, its watersheds.</summary>
internal sealed class IndexModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    private IReadOnlyDictionary<WatershedCode, Condition> _conditions = new Dictionary<WatershedCode, Condition>();
    private ILookup<WatershedCode, Trend> _trends = Array.Empty<Trend>().ToLookup(trend => trend.Area);

    private const int LongestList = 12;

    public bool IsPublished { get; private set; }

    public ConditionMap Map { get; private set; } = null!;

    /// <summary>Trends going down in the smallest areas, of most concern first (<see cref="ConcernRule"/>), and no more than a list to read.</summary>
    public IReadOnlyList<Trend> Falling { get; private set; } = [];

    /// <summary>How many more there are.</summary>
    public int FallingMore { get; private set; }

    public void OnGet()
    {
        IsPublished = Open();
        if (!IsPublished)
            return;
        _conditions = Edition.LatestConditions();
        _trends = Edition.Trends().ToLookup(trend => trend.Area);
        Map = new ConditionMap(Edition, _conditions, area => Address($"/watersheds/{area}"));
        var evidence = Edition.Evidence().ToDictionary(each => (each.Area, each.Species));
        var falling = Edition.Tree.Smallest.SelectMany(node => _trends[node.Area.Code])
            .Where(trend => trend.Direction == Direction.Down)
            .OrderByDescending(trend => ConcernRule.Value(trend, evidence.GetValueOrDefault((trend.Area, trend.Species)))).ThenBy(trend => trend.Area).ThenBy(trend => trend.Species).ToList();
        Falling = falling.Take(LongestList).ToList();
        FallingMore = falling.Count - Falling.Count;
    }

    /// <summary>The edition's warnings, those that count results counting what the pages show: a watershed with all its stations in a smaller one is shown once.</summary>
    public IEnumerable<EditionWarning> Warnings() => Edition.Header.Warnings
        .Select(warning => warning.Kind == EditionWarningKind.SeriesNearCeiling
            ? warning with { Count = AllTrends().Count(trend => trend.CeilingShare >= Edition.Settings.Trend.CeilingWarningShare) }
            : warning)
        .Where(warning => warning.Count > 0);

    public Condition? ConditionOf(Area area) => _conditions.GetValueOrDefault(area.Code);

    public IReadOnlyList<Trend> TrendsOf(Area area) => [.. _trends[area.Code]];

    /// <summary>Every trend of an area that the pages show.</summary>
    public IReadOnlyList<Trend> AllTrends() => [.. Edition.Tree.Shown.SelectMany(node => _trends[node.Area.Code])];
}
