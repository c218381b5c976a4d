using Indicators.Analysis.Options;
using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Trends of other windows, responses and models.</summary>
internal static class TrendVariantTable
{
    internal static readonly ResultTable<TrendVariant> Variants = new(
        "edition_trend_variant",
        "area, species_id, response, model, window",
        row => new TrendVariant
        {
            Area = row.Area(),
            Species = row.Species(),
            Window = row.Coded<TrendWindow>("window"),
            Response = row.Coded<ResponseKind>("response"),
            Model = row.Coded<TrendModel>("model"),
            Status = row.Coded<TrendStatus>("status"),
            FirstSeason = row.WholeOrNull("first_season"),
            LastSeason = row.WholeOrNull("last_season"),
            PercentPerSeason = row.RealOrNull("percent_per_season"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            Interval = row.Coded<IntervalKind>("interval"),
            LowerUnderlying = row.RealOrNull("lower_underlying"),
            UpperUnderlying = row.RealOrNull("upper_underlying"),
            SeasonSd = row.RealOrNull("season_sd"),
            SeasonCorrelation = row.RealOrNull("season_correlation"),
            Direction = row.Coded<Direction>("direction"),
            TotalChangePercent = row.RealOrNull("total_change"),
            TotalLower = row.RealOrNull("total_lower"),
            TotalUpper = row.RealOrNull("total_upper"),
            ProbabilityOfDecline = row.RealOrNull("probability_of_decline"),
            ProbabilityBelowMinus30 = row.RealOrNull("probability_below_30"),
            ProbabilityBelowMinus50 = row.RealOrNull("probability_below_50"),
            ProbabilityBelowMinus80 = row.RealOrNull("probability_below_80"),
            Clusters = row.WholeOrNull("clusters"),
            Stations = row.WholeOrNull("stations"),
            Surveys = row.WholeOrNull("surveys"),
            CeilingShare = row.RealOrNull("ceiling_share"),
        },
        [
            new("area", trend => trend.Area.ToString()),
            new("species_id", trend => trend.Species.ToString()),
            new("window", trend => ResultCode.Of(trend.Window)),
            new("response", trend => ResultCode.Of(trend.Response)),
            new("model", trend => ResultCode.Of(trend.Model)),
            new("status", trend => ResultCode.Of(trend.Status)),
            new("first_season", trend => trend.FirstSeason),
            new("last_season", trend => trend.LastSeason),
            new("percent_per_season", trend => trend.PercentPerSeason),
            new("lower", trend => trend.Lower),
            new("upper", trend => trend.Upper),
            new("interval", trend => ResultCode.Of(trend.Interval)),
            new("lower_underlying", trend => trend.LowerUnderlying),
            new("upper_underlying", trend => trend.UpperUnderlying),
            new("season_sd", trend => trend.SeasonSd),
            new("season_correlation", trend => trend.SeasonCorrelation),
            new("direction", trend => ResultCode.Of(trend.Direction)),
            new("total_change", trend => trend.TotalChangePercent),
            new("total_lower", trend => trend.TotalLower),
            new("total_upper", trend => trend.TotalUpper),
            new("probability_of_decline", trend => trend.ProbabilityOfDecline),
            new("probability_below_30", trend => trend.ProbabilityBelowMinus30),
            new("probability_below_50", trend => trend.ProbabilityBelowMinus50),
            new("probability_below_80", trend => trend.ProbabilityBelowMinus80),
            new("clusters", trend => trend.Clusters),
            new("stations", trend => trend.Stations),
            new("surveys", trend => trend.Surveys),
            new("ceiling_share", trend => trend.CeilingShare),
        ]);
}
