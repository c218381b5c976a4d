using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Trends.</summary>
internal static class TrendTable
{
    internal static readonly ResultTable<Trend> Trends = new(
        "edition_trend",
        "area, species_id",
        row => new Trend
        {
            Area = row.Area(),
            Species = row.Species(),
            Status = row.Coded<TrendStatus>("status"),
            FirstSeason = row.WholeOrNull("first_season"),
            LastSeason = row.WholeOrNull("last_season"),
            PercentPerSeason = row.RealOrNull("percent_per_season"),
            Lower = row.RealOrNull("lower"),
            Upper = row.RealOrNull("upper"),
            Interval = row.Coded<IntervalKind>("interval"),
            Direction = row.Coded<Direction>("direction"),
            Slowly = row.Flag("slowly"),
            ProbabilityOfDecline = row.RealOrNull("probability_of_decline"),
            LowerMonteCarloError = row.RealOrNull("lower_monte_carlo_error"),
            UpperMonteCarloError = row.RealOrNull("upper_monte_carlo_error"),
            BcaLower = row.RealOrNull("bca_lower"),
            BcaUpper = row.RealOrNull("bca_upper"),
            JackknifeLower = row.RealOrNull("jackknife_lower"),
            JackknifeUpper = row.RealOrNull("jackknife_upper"),
            Clusters = row.Whole("clusters"),
            InformativeClusters = row.Whole("informative_clusters"),
            Stations = row.Whole("stations"),
            Surveys = row.Whole("surveys"),
            SilentStations = row.Whole("silent_stations"),
            CeilingShare = row.RealOrNull("ceiling_share"),
            Resamples = row.Whole("resamples"),
        },
        [
            new("area", trend => trend.Area.ToString()),
            new("species_id", trend => trend.Species.ToString()),
            new("status", trend => ResultCode.Of(trend.Status)),
            new("first_season", trend => trend.FirstSeason),
            new("last_season", trend => trend.LastSeason),
            new("percent_per_season", trend => trend.PercentPerSeason),
            new("lower", trend => trend.Lower),
            new("upper", trend => trend.Upper),
            new("interval", trend => ResultCode.Of(trend.Interval)),
            new("direction", trend => ResultCode.Of(trend.Direction)),
            new("slowly", trend => trend.Slowly),
            new("probability_of_decline", trend => trend.ProbabilityOfDecline),
            new("lower_monte_carlo_error", trend => trend.LowerMonteCarloError),
            new("upper_monte_carlo_error", trend => trend.UpperMonteCarloError),
            new("bca_lower", trend => trend.BcaLower),
            new("bca_upper", trend => trend.BcaUpper),
            new("jackknife_lower", trend => trend.JackknifeLower),
            new("jackknife_upper", trend => trend.JackknifeUpper),
            new("clusters", trend => trend.Clusters),
            new("informative_clusters", trend => trend.InformativeClusters),
            new("stations", trend => trend.Stations),
            new("surveys", trend => trend.Surveys),
            new("silent_stations", trend => trend.SilentStations),
            new("ceiling_share", trend => trend.CeilingShare),
            new("resamples", trend => trend.Resamples),
        ]);
}
