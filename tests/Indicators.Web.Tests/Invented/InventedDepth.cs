using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Web.Tests.Invented;

/// <summary>Places, times of calling and what else stands beside the trends of the invented edition. The rare species is protected.</summary>
internal static class InventedDepth
{
    public static readonly Id<Wetland> Heron = Wetland("W1"), Quiet = Wetland("W2"), RareOnly = Wetland("W3"), Etang = Wetland("Étang 7");

    private static readonly CallingWindow Spring = new(new AnnualDate(4, 1), new AnnualDate(6, 15));

    public static InventedReader AddedTo(InventedReader reader) => reader with
    {
        Places = Places(),
        CallingTimeList = [.. reader.TrendList.Select(CallingTimeOf)],
        OccupancyList = [.. reader.IndexList.Where(point => point.Area != InventedEdition.Nameless || point.Species != InventedEdition.Leopard).Select(OccupancyOf)],
        VariantList = [.. reader.TrendList.SelectMany(VariantsOf)],
        SmoothList = [.. reader.IndexList.Where(point => point is { Index: > 0, Lower: not null }).Select(SmoothOf)],
        GroupTrendList = [.. reader.AreaList.SelectMany(area => GroupsOf(area.Code))],
    };

    // A wetland where only the rare species was heard, and one where nothing was: their rows are alike.
    public static ProgrammePlaces Places() => new()
    {
        Gazetteer =
        [
            new("Étang du Héron", GazetteerKind.Wetland, InventedEdition.Otter, "etang-7"),
            new("Heron Slough", GazetteerKind.Wetland, InventedEdition.Marl, "w1"),
            new("Heron Slough, landing", GazetteerKind.Station, InventedEdition.Marl, "w1"),
            new("Marl Creek", GazetteerKind.Watershed, InventedEdition.Marl, null),
            new("Ninety-Nine Lakes", GazetteerKind.Watershed, InventedEdition.Whole, null),
            new("Otter Lake", GazetteerKind.Watershed, InventedEdition.Otter, null),
            new("Quiet Pond", GazetteerKind.Wetland, InventedEdition.Marl, "w2"),
            new("Upper Lakes", GazetteerKind.Watershed, InventedEdition.Middle, null),
        ],
        Wetlands =
        [
            new(Etang, "etang-7", "Étang du Héron", InventedEdition.Otter, 1, 30, 2012, 2026),
            new(Heron, "w1", "Heron Slough", InventedEdition.Marl, 2, 72, 2012, 2026),
            new(Quiet, "w2", "Quiet Pond", InventedEdition.Marl, 1, 40, 2012, 2026),
            new(RareOnly, "w3", null, InventedEdition.Marl, 1, 40, 2012, 2026),
        ],
        Seasons = [.. new[] { Heron, Quiet, RareOnly, Etang }.SelectMany(wetland => Enumerable.Range(InventedEdition.First, 15).Select(season => new WetlandSeason(wetland, season, 3)))],
        Calls =
        [
            .. Enumerable.Range(InventedEdition.First, 15).Where(season => season != 2020)
                .Select(season => new WetlandCalls(Heron, InventedEdition.Peeper, season, 3, season == 2019 ? 0 : 2, season == 2019 ? 0 : (season - 2011) * 0.2, season == 2019 ? 0 : 3)),
            new(Heron, InventedEdition.Wood, 2026, 2, 1, 0.5, 1),
            new(Etang, InventedEdition.Wood, 2014, 2, 2, 2.5, 3),
        ],
    };

    private static CallingTime CallingTimeOf(Trend trend) => new CallingTime { Area = trend.Area, Species = trend.Species, Window = Spring } switch
    {
        var time when trend.Species == InventedEdition.Rare => time,
        var time when trend.Status == TrendStatus.NeverHeard => time with { SurveysHeard = 0 },
        var time => time with { FirstHeard = new AnnualDate(4, 9), MedianHeard = new AnnualDate(5, 2), LastHeard = new AnnualDate(6, 11), SurveysHeard = 120 },
    };

    private static OccupancyPoint OccupancyOf(IndexPoint point)
    {
        bool kept = point.Species == InventedEdition.Rare;
        return new OccupancyPoint(
            point.Area, point.Species, point.Season, 12, kept ? null : 9, kept ? null : 0.75,
            point.Species == InventedEdition.Leopard ? null : 0.84, point.Species == InventedEdition.Leopard ? null : 0.7, point.Species == InventedEdition.Leopard ? null : 0.93,
            point.Species == InventedEdition.Leopard ? OccupancyBasis.FewWetlands : OccupancyBasis.ManySeasons);
    }

    private static IEnumerable<TrendVariant> VariantsOf(Trend trend) => Enum.GetValues<TrendWindow>().Where(window => window != TrendWindow.Asked).SelectMany(window =>
        new[] { ResponseKind.CallLevel, ResponseKind.Heard }.Select(response => new TrendVariant
        {
            Area = trend.Area, Species = trend.Species, Window = window, Response = response, Model = TrendModel.Raw, Status = trend.Status, Interval = trend.Interval,
            PercentPerSeason = trend.PercentPerSeason, LowerUnderlying = trend.LowerUnderlying, UpperUnderlying = trend.UpperUnderlying, SeasonSd = trend.SeasonSd,
            ProbabilityOfDecline = trend.SeasonSd is null ? null : window == TrendWindow.Last5 ? 0.81 : response == ResponseKind.Heard ? 0.123 : 0.97, Direction = trend.Direction,
        }));

    private static SmoothPoint SmoothOf(IndexPoint point) => new()
    {
        Area = point.Area, Species = point.Species, Season = point.Season, Value = point.Index!.Value * 1.01, Lower = point.Lower, Upper = point.Upper,
    };

    private static IEnumerable<GroupTrend> GroupsOf(WatershedCode area) =>
    [
        new()
        {
            Area = area, Group = SpeciesGroup.All, Species = 4, PercentPerSeason = -1.4, LowerUnderlying = -2.6, UpperUnderlying = -0.2,
            Direction = area == InventedEdition.Nameless ? Direction.Unclear : Direction.Down, ProbabilityOfDecline = 0.98,
        },
        new() { Area = area, Group = SpeciesGroup.Summer, Species = 1 },
    ];

    private static Id<Wetland> Wetland(string id) => Id<Wetland>.Parse(id).Value;
}
