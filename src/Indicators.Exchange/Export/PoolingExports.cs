using Indicators.Analysis.Results;

namespace Indicators.Exchange.Export;

/// <summary>The tables of what several areas tell together. The rules of <see cref="ExportTables"/> hold here too.</summary>
public static class PoolingExports
{
    /// <summary>One row a set of areas, species and method: the pooled slope.</summary>
    public static ExportTable Pooled(IEnumerable<PooledTrend> trends) => ExportTable.Of("pooled", trends,
    [
        new("parent_code", trend => trend.Parent?.ToString()),
        new("level", trend => trend.Level),
        new("species_id", trend => trend.Species.ToString()),
        new("method", trend => ResultCode.Of(trend.Method)),
        new("areas", trend => trend.Areas),
        new("percent_per_season", trend => trend.PercentPerSeason),
        new("lower", trend => trend.Lower),
        new("upper", trend => trend.Upper),
        new("prediction_lower", trend => trend.PredictionLower),
        new("prediction_upper", trend => trend.PredictionUpper),
        new("tau", trend => trend.Tau),
        new("tau_lower", trend => trend.TauLower),
        new("tau_upper", trend => trend.TauUpper),
        new("i_squared", trend => trend.ISquared),
        new("q", trend => trend.Q),
        new("shared_season_sd", trend => trend.SharedSeasonSd),
        new("season_correlation", trend => trend.SeasonCorrelation),
    ]);

    /// <summary>One row a set of areas, area and species: the shrunken slope beside the raw one.</summary>
    public static ExportTable Shrunken(IEnumerable<ShrunkenTrend> trends) => ExportTable.Of("shrunken", trends,
    [
        new("parent_code", trend => trend.Parent?.ToString()),
        new("watershed_code", trend => trend.Area.ToString()),
        new("species_id", trend => trend.Species.ToString()),
        new("raw_percent", trend => trend.RawPercent),
        new("raw_lower", trend => trend.RawLower),
        new("raw_upper", trend => trend.RawUpper),
        new("percent_per_season", trend => trend.PercentPerSeason),
        new("lower", trend => trend.Lower),
        new("upper", trend => trend.Upper),
        new("own_share", trend => trend.OwnShare),
    ]);

    /// <summary>One row an area, species and season: the direct index and the one rolled up.</summary>
    public static ExportTable RollUp(IEnumerable<RollUp> points) => ExportTable.Of("rollup", points,
    [
        new("watershed_code", point => point.Area.ToString()),
        new("species_id", point => point.Species.ToString()),
        new("season", point => point.Season),
        new("direct_index", point => point.DirectIndex),
        new("rolled_up_index", point => point.RolledUpIndex),
        new("difference", point => point.Difference),
        new("areas", point => point.Areas),
        new("station_share", point => point.StationShare),
    ]);
}
