using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Trends of groups of species.</summary>
internal static class GroupTrendTable
{
    internal static readonly ResultTable<GroupTrend> GroupTrends = new(
        "edition_group_trend",
        "area, species_group",
        row => new GroupTrend
        {
            Area = row.Area(),
            Group = row.Coded<SpeciesGroup>("species_group"),
            Species = row.Whole("species"),
            PercentPerSeason = row.RealOrNull("percent_per_season"),
            LowerUnderlying = row.RealOrNull("lower_underlying"),
            UpperUnderlying = row.RealOrNull("upper_underlying"),
            Direction = row.Coded<Direction>("direction"),
            ProbabilityOfDecline = row.RealOrNull("probability_of_decline"),
            TwoWayLower = row.RealOrNull("two_way_lower"),
            TwoWayUpper = row.RealOrNull("two_way_upper"),
        },
        [
            new("area", trend => trend.Area.ToString()),
            new("species_group", trend => ResultCode.Of(trend.Group)),
            new("species", trend => trend.Species),
            new("percent_per_season", trend => trend.PercentPerSeason),
            new("lower_underlying", trend => trend.LowerUnderlying),
            new("upper_underlying", trend => trend.UpperUnderlying),
            new("direction", trend => ResultCode.Of(trend.Direction)),
            new("probability_of_decline", trend => trend.ProbabilityOfDecline),
            new("two_way_lower", trend => trend.TwoWayLower),
            new("two_way_upper", trend => trend.TwoWayUpper),
        ]);
}
