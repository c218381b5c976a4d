using System.Xml.Linq;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Maps;
using Indicators.Web.Reading;
using Indicators.Wording;

namespace Indicators.Web.Pages;

/// <summary>The whole programme: its sentence, its map, its watersheds.</summary>
internal sealed class IndexModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    private IReadOnlyDictionary<WatershedCode, Condition> _conditions = new Dictionary<WatershedCode, Condition>();
    private ILookup<WatershedCode, Trend> _trends = Array.Empty<Trend>().ToLookup(trend => trend.Area);

    private const int LongestList = 12;

    public bool IsPublished { get; private set; }

    public XElement? Map { get; private set; }

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
        Map = DrawMap();
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

    private XElement? DrawMap()
    {
        var outlines = Edition.Shapes.Select(shape => AreaOutline.Read(shape.Code, shape.GeometryJson)).ToList();
        var areas = Edition.Tree.Smallest.Select((node, place) =>
        {
            var condition = ConditionOf(node.Area);
            string name = Phrases.Capital(PublishedEdition.NameOf(node.Area));
            return new MapArea(node.Area.Code, place + 1, Amount(condition), PageWords.MapArea(place + 1, name, ConditionSentences.Label(condition)), Address($"/watersheds/{node.Area.Code}"));
        }).ToList();
        return AreaMap.Draw(outlines, areas, PageWords.Map);
    }

    /// <summary>Where the five steps of the map's hue begin: poor, both halves of fair, both halves of good.</summary>
    public IReadOnlyList<double> Steps()
    {
        var (fair, good) = (Edition.Settings.Score.FairFrom, Edition.Settings.Score.GoodFrom);
        return [0, fair, (fair + good) / 2, good, (good + 100) / 2];
    }

    private int? Amount(Condition? condition) =>
        condition is { Score: { } score, Lower: not null } ? Steps().Count(step => score >= step) : null;
}
