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

    /// <summary>Trends going down in the smallest areas, surest first, and no more than a list to read.</summary>
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
        var falling = Edition.Tree.Smallest.SelectMany(node => _trends[node.Area.Code])
            .Where(trend => trend.Direction == Direction.Down)
            .OrderBy(trend => trend.UpperUnderlying ?? trend.Upper).ThenBy(trend => trend.Area).ThenBy(trend => trend.Species).ToList();
        Falling = falling.Take(LongestList).ToList();
        FallingMore = falling.Count - Falling.Count;
    }

    public Condition? ConditionOf(Area area) => _conditions.GetValueOrDefault(area.Code);

    public IReadOnlyList<Trend> TrendsOf(Area area) => [.. _trends[area.Code]];

    /// <summary>Every trend of an area that the pages show.</summary>
    public IReadOnlyList<Trend> AllTrends() => [.. Edition.Tree.Shown.SelectMany(node => _trends[node.Area.Code])];
}
