using Indicators.Analysis.Results;

namespace Indicators.Exchange.Export;

/// <summary>The tables of occupancy, detection and silence; see <see cref="ExportTables"/>.</summary>
public static class OccupancyExports
{
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
}
