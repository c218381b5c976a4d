using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Export;

/// <summary>
/// The tables an edition is given away in. Columns, units and ranges are in docs/data-dictionary.md; a column once there
/// keeps its name and its place, new ones come at the end. Rows stay in the order they are given in.
/// </summary>
public static class ExportTables
{
    private static readonly LocalTimePattern Minutes = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    /// <summary>One row an area and species: the trend over the whole series.</summary>
    public static ExportTable Trends(IEnumerable<Trend> trends) => ExportTable.Of("trends", trends,
    [
        new("watershed_code", trend => trend.Area.ToString()),
        new("species_id", trend => trend.Species.ToString()),
        new("first_season", trend => trend.FirstSeason),
        new("last_season", trend => trend.LastSeason),
        new("percent_per_season", trend => trend.PercentPerSeason),
        new("lower", trend => trend.Lower),
        new("upper", trend => trend.Upper),
        new("direction", trend => ResultCode.Of(trend.Direction)),
        new("interval", trend => ResultCode.Of(trend.Interval)),
        new("clusters", trend => trend.Clusters),
        new("stations", trend => trend.Stations),
        new("surveys", trend => trend.Surveys),
        new("lower_underlying", trend => trend.LowerUnderlying),
        new("upper_underlying", trend => trend.UpperUnderlying),
        new("season_sd", trend => trend.SeasonSd),
    ]);

    /// <summary>One row an area, species, response, model and window.</summary>
    public static ExportTable TrendsAll(IEnumerable<TrendVariant> trends) => ExportTable.Of("trends_all", trends,
    [
        new("watershed_code", trend => trend.Area.ToString()),
        new("species_id", trend => trend.Species.ToString()),
        new("response", trend => ResultCode.Of(trend.Response)),
        new("model", trend => ResultCode.Of(trend.Model)),
        new("window", trend => ResultCode.Of(trend.Window)),
        new("first_season", trend => trend.FirstSeason),
        new("last_season", trend => trend.LastSeason),
        new("percent_per_season", trend => trend.PercentPerSeason),
        new("lower", trend => trend.Lower),
        new("upper", trend => trend.Upper),
        new("direction", trend => ResultCode.Of(trend.Direction)),
        new("interval", trend => ResultCode.Of(trend.Interval)),
        new("clusters", trend => trend.Clusters),
        new("stations", trend => trend.Stations),
        new("surveys", trend => trend.Surveys),
        new("lower_underlying", trend => trend.LowerUnderlying),
        new("upper_underlying", trend => trend.UpperUnderlying),
        new("season_sd", trend => trend.SeasonSd),
        new("total_change", trend => trend.TotalChangePercent),
        new("total_lower", trend => trend.TotalLower),
        new("total_upper", trend => trend.TotalUpper),
        new("probability_of_decline", trend => trend.ProbabilityOfDecline),
        new("probability_below_30", trend => trend.ProbabilityBelowMinus30),
        new("probability_below_50", trend => trend.ProbabilityBelowMinus50),
        new("probability_below_80", trend => trend.ProbabilityBelowMinus80),
        new("ceiling_share", trend => trend.CeilingShare),
        new("season_correlation", trend => trend.SeasonCorrelation),
    ]);

    /// <summary>One row an area and species, as in trends: why there is none, and the same trend by other means.</summary>
    public static ExportTable TrendChecks(IEnumerable<Trend> trends) => ExportTable.Of("trend_checks", trends,
    [
        new("watershed_code", trend => trend.Area.ToString()),
        new("species_id", trend => trend.Species.ToString()),
        new("status", trend => ResultCode.Of(trend.Status)),
        new("informative_clusters", trend => trend.InformativeClusters),
        new("silent_stations", trend => trend.SilentStations),
        new("resamples", trend => trend.Interval is IntervalKind.NoEstimate or IntervalKind.FewClusters or IntervalKind.FewSeasons ? null : trend.Resamples),
        new("lower_monte_carlo_error", trend => trend.LowerMonteCarloError),
        new("upper_monte_carlo_error", trend => trend.UpperMonteCarloError),
        new("bca_lower", trend => trend.BcaLower),
        new("bca_upper", trend => trend.BcaUpper),
        new("jackknife_lower", trend => trend.JackknifeLower),
        new("jackknife_upper", trend => trend.JackknifeUpper),
        new("percent_equal_stations", trend => trend.EqualStationsPercent),
    ]);

    /// <summary>One row an area and species: how well its trend is supported.</summary>
    public static ExportTable Influence(IEnumerable<SeriesEvidence> evidence) => ExportTable.Of("influence", evidence,
    [
        new("watershed_code", each => each.Area.ToString()),
        new("species_id", each => each.Species.ToString()),
        new("evidence", each => ResultCode.Of(each.Grade)),
        new("reasons", each => EvidenceReasons.Codes(each.Reasons)),
        new("leave_one_out_change", each => each.LeaveOneOutChange),
        new("left_out", each => each.LeftOut?.ToString()),
        new("left_out_stations", each => each.LeftOutStations),
        new("sign_holds", each => each.SignHolds is { } holds ? (holds ? "true" : "false") : null),
        new("dispersion", each => each.Dispersion),
        new("dispersion_df", each => each.DispersionDf),
        new("zero_cell_share", each => each.ZeroCellShare),
        new("seasons", each => each.Seasons),
        new("one_station_seasons", each => each.OneStationSeasons),
        new("ceiling_share", each => each.CeilingShare),
        new("observers", each => each.Observers),
        new("new_observer_share", each => each.NewObserverShare),
        new("outside_protocol_share", each => each.OutsideProtocolShare),
    ]);

    /// <summary>One row an area, species and covariate: what it does in the adjusted trend.</summary>
    public static ExportTable Effects(IEnumerable<CovariateEffect> effects) => ExportTable.Of("effects", effects,
    [
        new("watershed_code", effect => effect.Area.ToString()),
        new("species_id", effect => effect.Species.ToString()),
        new("covariate", effect => ResultCode.Of(effect.Covariate)),
        new("status", effect => ResultCode.Of(effect.Status)),
        new("effect", effect => effect.Effect),
        new("lower", effect => effect.Lower),
        new("upper", effect => effect.Upper),
        new("percent_per_unit", effect => effect.PercentPerUnit),
        new("percent_lower", effect => effect.PercentLower),
        new("percent_upper", effect => effect.PercentUpper),
        new("mean", effect => effect.Mean),
        new("sd", effect => effect.Sd),
        new("missing", effect => effect.Missing),
        new("surveys", effect => effect.Surveys),
    ]);

    /// <summary>One row an area, species and season: the smooth course.</summary>
    public static ExportTable Smooth(IEnumerable<SmoothPoint> points) => ExportTable.Of("smooth", points,
    [
        new("watershed_code", point => point.Area.ToString()),
        new("species_id", point => point.Species.ToString()),
        new("season", point => point.Season),
        new("value", point => point.Value),
        new("lower", point => point.Lower),
        new("upper", point => point.Upper),
        new("bend", point => ResultCode.Of(point.Bend)),
        new("fall_share", point => point.FallShare),
        new("rise_share", point => point.RiseShare),
    ]);

    /// <summary>Two rows an area and species: when the smooth course falls and rises fastest.</summary>
    public static ExportTable Changes(IEnumerable<SmoothChange> changes) => ExportTable.Of("changes", changes,
    [
        new("watershed_code", change => change.Area.ToString()),
        new("species_id", change => change.Species.ToString()),
        new("kind", change => ResultCode.Of(change.Kind)),
        new("season", change => change.Season),
        new("season_lower", change => change.SeasonLower),
        new("season_upper", change => change.SeasonUpper),
        new("percent_per_season", change => change.PercentPerSeason),
        new("lower", change => change.Lower),
        new("upper", change => change.Upper),
        new("freedom", change => change.Freedom),
    ]);

    /// <summary>One row an area, species and season: occupancy of wetlands.</summary>
    public static ExportTable Occupancy(IEnumerable<OccupancyPoint> points) => ExportTable.Of("occupancy", points,
    [
        new("watershed_code", point => point.Area.ToString()),
        new("species_id", point => point.Species.ToString()),
        new("season", point => point.Season),
        new("wetlands", point => point.Wetlands),
        new("wetlands_heard", point => point.WetlandsHeard),
        new("raw_share", point => point.RawShare),
        new("psi", point => point.Psi),
        new("lower", point => point.Lower),
        new("upper", point => point.Upper),
        new("basis", point => ResultCode.Of(point.Basis)),
    ]);

    /// <summary>One row an area and species: what is the same in every season.</summary>
    public static ExportTable OccupancyRates(IEnumerable<OccupancyRates> rates) => ExportTable.Of("occupancy_rates", rates,
    [
        new("watershed_code", row => row.Area.ToString()),
        new("species_id", row => row.Species.ToString()),
        new("basis", row => ResultCode.Of(row.Basis)),
        new("wetlands", row => row.Wetlands),
        new("wetlands_heard", row => row.WetlandsHeard),
        new("visits", row => row.Visits),
        new("colonisation", row => row.Colonisation),
        new("colonisation_lower", row => row.ColonisationLower),
        new("colonisation_upper", row => row.ColonisationUpper),
        new("extinction", row => row.Extinction),
        new("extinction_lower", row => row.ExtinctionLower),
        new("extinction_upper", row => row.ExtinctionUpper),
        new("visits_for_absence", row => row.VisitsForAbsence),
    ]);

    /// <summary>One row an area, species and part of the calling window: the chance that a survey hears it.</summary>
    public static ExportTable Detection(IEnumerable<DetectionRate> rates) => ExportTable.Of("detection", rates,
    [
        new("watershed_code", rate => rate.Area.ToString()),
        new("species_id", rate => rate.Species.ToString()),
        new("part", rate => ResultCode.Of(rate.Part)),
        new("visits", rate => rate.Visits),
        new("detections", rate => rate.Detections),
        new("p", rate => rate.P),
        new("standard_error", rate => rate.StandardError),
        new("lower", rate => rate.Lower),
        new("upper", rate => rate.Upper),
        new("visits_for_absence", rate => rate.VisitsForAbsence),
        new("visits_for_absence_cautious", rate => rate.VisitsForAbsenceCautious),
    ]);

    /// <summary>One row a station and species gone quiet or newly heard.</summary>
    public static ExportTable Silence(IEnumerable<StationSilence> silences) => ExportTable.Of("silence", silences,
    [
        new("watershed_code", silence => silence.Area.ToString()),
        new("kind", silence => ResultCode.Of(silence.Kind)),
        new("rank", silence => silence.Rank),
        new("station_id", silence => silence.Station.ToString()),
        new("species_id", silence => silence.Species.ToString()),
        new("heard_season", silence => silence.HeardSeason),
        new("silent_visits", silence => silence.SilentVisits),
        new("silent_seasons", silence => silence.SilentSeasons),
        new("visits", silence => silence.Visits),
        new("visits_heard", silence => silence.VisitsHeard),
        new("chance", silence => silence.Chance),
        new("chance_present", silence => silence.ChancePresent),
    ]);

    /// <summary>One row a watershed and kind: how many silences were looked at, and how many chance alone would list.</summary>
    public static ExportTable SilenceTally(IEnumerable<SilenceTally> tallies) => ExportTable.Of("silence_tally", tallies,
    [
        new("watershed_code", tally => tally.Area.ToString()),
        new("kind", tally => ResultCode.Of(tally.Kind)),
        new("tested", tally => tally.Tested),
        new("listed", tally => tally.Listed),
        new("expected_by_chance", tally => tally.ExpectedByChance),
    ]);

    /// <summary>One row an area, species and season: the abundance index.</summary>
    public static ExportTable Indices(IEnumerable<IndexPoint> points) => ExportTable.Of("indices", points,
    [
        new("watershed_code", point => point.Area.ToString()),
        new("species_id", point => point.Species.ToString()),
        new("season", point => point.Season),
        new("index", point => point.Index),
        new("lower", point => point.Lower),
        new("upper", point => point.Upper),
        new("stations", point => point.Stations),
        new("surveys", point => point.Surveys),
    ]);

    /// <summary>One row an area and season: the condition score and its parts.</summary>
    public static ExportTable Conditions(IEnumerable<Condition> conditions) => ExportTable.Of("condition", conditions,
    [
        new("watershed_code", condition => condition.Area.ToString()),
        new("season", condition => condition.Season),
        new("score", condition => condition.Score),
        new("lower", condition => condition.Lower),
        new("upper", condition => condition.Upper),
        new("class", condition => condition.Class is { } value ? ResultCode.Of(value) : null),
        new("presence_part", condition => condition.PresencePart),
        new("sensitivity_part", condition => condition.SensitivityPart),
        new("calling_part", condition => condition.CallingPart),
        new("direction_part", condition => condition.DirectionPart),
        new("presence_raw_part", condition => condition.PresenceRawPart),
        new("sensitivity_raw_part", condition => condition.SensitivityRawPart),
    ]);

    /// <summary>One row a line of a score's explanation.</summary>
    public static ExportTable ConditionLines(IEnumerable<Condition> conditions) => ExportTable.Of(
        "condition_lines",
        conditions.SelectMany(condition => condition.Lines.Select(line => (Condition: condition, Line: line))),
        [
            new("watershed_code", row => row.Condition.Area.ToString()),
            new("season", row => row.Condition.Season),
            new("part", row => ResultCode.Of(row.Line.Part)),
            new("species_id", row => row.Line.Species?.ToString()),
            new("points", row => row.Line.Points),
            new("change", row => row.Line.Change),
        ]);

    /// <summary>One row an area, group of species and season: the group together.</summary>
    public static ExportTable Group(IEnumerable<GroupIndexPoint> points) => ExportTable.Of("group", points,
    [
        new("watershed_code", point => point.Area.ToString()),
        new("season", point => point.Season),
        new("index", point => point.Index),
        new("lower", point => point.Lower),
        new("upper", point => point.Upper),
        new("species", point => point.Species),
        new("group", point => ResultCode.Of(point.Group)),
    ]);

    /// <summary>One row an area and group of species: the mean slope.</summary>
    public static ExportTable GroupTrends(IEnumerable<GroupTrend> trends) => ExportTable.Of("group_trends", trends,
    [
        new("watershed_code", trend => trend.Area.ToString()),
        new("group", trend => ResultCode.Of(trend.Group)),
        new("species", trend => trend.Species),
        new("percent_per_season", trend => trend.PercentPerSeason),
        new("lower_underlying", trend => trend.LowerUnderlying),
        new("upper_underlying", trend => trend.UpperUnderlying),
        new("direction", trend => ResultCode.Of(trend.Direction)),
        new("probability_of_decline", trend => trend.ProbabilityOfDecline),
        new("two_way_lower", trend => trend.TwoWayLower),
        new("two_way_upper", trend => trend.TwoWayUpper),
    ]);

    /// <summary>One row an area and season: how much listening there was.</summary>
    public static ExportTable Effort(IEnumerable<SeasonEffort> seasons) => ExportTable.Of("effort", seasons,
    [
        new("watershed_code", effort => effort.Area.ToString()),
        new("season", effort => effort.Season),
        new("stations", effort => effort.Stations),
        new("wetlands", effort => effort.Wetlands),
        new("surveys", effort => effort.Surveys),
    ]);

    /// <summary>One row a survey and species heard; a silent survey has one row without species and call index.</summary>
    public static ExportTable Surveys(IEnumerable<PublishedSurvey> surveys) => ExportTable.Of(
        "surveys",
        surveys.SelectMany(survey => survey.Calls.Count == 0
            ? [(Survey: survey, Call: (Call?)null)]
            : survey.Calls.Select(call => (Survey: survey, Call: (Call?)call))),
        [
            new("survey_id", row => row.Survey.Id.ToString()),
            new("station_id", row => row.Survey.Station.ToString()),
            new("wetland_id", row => row.Survey.Wetland.ToString()),
            new("watershed_code", row => row.Survey.Watershed.ToString()),
            new("date", row => LocalDatePattern.Iso.Format(row.Survey.Date)),
            new("start_time", row => row.Survey.StartTime is { } start ? ClockTime(start) : null),
            new("minutes", row => row.Survey.Minutes),
            new("air_temp_c", row => row.Survey.AirTempC),
            new("wind_beaufort", row => row.Survey.WindBeaufort),
            new("sky_code", row => row.Survey.SkyCode),
            new("noise", row => row.Survey.Noise),
            new("species_id", row => row.Call?.Species.ToString()),
            new("call_index", row => row.Call?.Level.Value),
        ]);

    private static string ClockTime(LocalTime time) =>
        time.NanosecondOfDay % NodaConstants.NanosecondsPerMinute == 0 ? Minutes.Format(time) : LocalTimePattern.ExtendedIso.Format(time);
}
