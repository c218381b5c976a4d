using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Maps;

namespace Indicators.Web.Reading;

/// <summary>Places, times of calling, and what else stands beside the trends.</summary>
internal sealed partial class PublishedEdition
{
    private PlaceSearch? _search;
    private IReadOnlyList<AreaOutline>? _outlines;
    private IReadOnlyList<WetlandPlace>? _wetlands;

    /// <summary>The programme's own names. Read once; editions never change.</summary>
    public PlaceSearch Search => _search ??= new PlaceSearch(_reader.Gazetteer(Header.Number));

    /// <summary>The shapes as outlines, read once.</summary>
    public IReadOnlyList<AreaOutline> Outlines => _outlines ??= [.. Shapes.Select(shape => AreaOutline.Read(shape.Code, shape.GeometryJson))];

    /// <summary>The wetlands of an area, by name.</summary>
    public IReadOnlyList<WetlandPlace> WetlandsOf(WatershedCode area) =>
        [.. Wetlands.Where(place => place.Area.IsWithin(area)).OrderBy(NameOf, StringComparer.OrdinalIgnoreCase).ThenBy(place => place.Slug, StringComparer.Ordinal)];

    public WetlandPlace? WetlandAt(string slug) => Wetlands.FirstOrDefault(place => place.Slug == slug);

    public static string NameOf(WetlandPlace place) => place.Name ?? Wording.WetlandSentences.Nameless(place.Wetland.ToString());

    public IReadOnlyList<WetlandSeason> SeasonsOf(WetlandPlace place) => _reader.WetlandSeasons(Header.Number, place.Wetland);

    public IReadOnlyList<WetlandCalls> CallsAt(WetlandPlace place) => _reader.WetlandCalls(Header.Number, place.Wetland);

    public IReadOnlyList<CallingTime> CallingTimesOf(WatershedCode area) => _reader.CallingTimes(Header.Number, area);

    public IReadOnlyList<CallingTime> CallingTimesOf(Id<Species> species) => _reader.CallingTimes(Header.Number, species: species);

    public IReadOnlyList<OccupancyPoint> OccupancyOf(WatershedCode area) => _reader.Occupancy(Header.Number, area);

    public IReadOnlyList<OccupancyPoint> OccupancyOf(WatershedCode area, Id<Species> species) => _reader.Occupancy(Header.Number, area, species);

    public IReadOnlyList<SmoothPoint> SmoothOf(WatershedCode area) => _reader.Smooth(Header.Number, area);

    public IReadOnlyList<SmoothPoint> SmoothOf(Id<Species> species) => _reader.Smooth(Header.Number, species: species);

    public IReadOnlyList<GroupTrend> GroupTrendsOf(WatershedCode area) => _reader.GroupTrends(Header.Number, area);

    /// <summary>The trends of every window under the edition's own response, raw.</summary>
    public IReadOnlyList<TrendVariant> WindowsOf(WatershedCode area) => Windows(_reader.Variants(Header.Number, area));

    public IReadOnlyList<TrendVariant> WindowsOf(WatershedCode area, Id<Species> species) => Windows(_reader.Variants(Header.Number, area, species));

    private IReadOnlyList<WetlandPlace> Wetlands => _wetlands ??= _reader.Wetlands(Header.Number);

    private IReadOnlyList<TrendVariant> Windows(IEnumerable<TrendVariant> variants) =>
        [.. variants.Where(variant => variant.Response == Settings.Response.Kind && variant.Model == TrendModel.Raw)];
}
