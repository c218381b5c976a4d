using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Occupancy by season, its rates, and detection by part of the calling window.</summary>
internal static class OccupancyTables
{
    internal static readonly ResultTable<OccupancyPoint> Points = new(
        "edition_occupancy",
        "area, species_id, season",
        row => new OccupancyPoint(
            row.Area(),
            row.Species(),
            row.Whole("season"),
            row.Whole("wetlands"),
            row.WholeOrNull("wetlands_heard"),
            row.RealOrNull("raw_share"),
            row.RealOrNull("psi"),
            row.RealOrNull("lower"),
            row.RealOrNull("upper"),
            row.Coded<OccupancyBasis>("basis")),
        [
            new("area", point => point.Area.ToString()),
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

    internal static readonly ResultTable<OccupancyRates> Rates = new(
        "edition_occupancy_rates",
        "area, species_id",
        row => new OccupancyRates
        {
            Area = row.Area(),
            Species = row.Species(),
            Basis = row.Coded<OccupancyBasis>("basis"),
            Wetlands = row.Whole("wetlands"),
            WetlandsHeard = row.WholeOrNull("wetlands_heard"),
            Visits = row.Whole("visits"),
            Colonisation = row.RealOrNull("colonisation"),
            ColonisationLower = row.RealOrNull("colonisation_lower"),
            ColonisationUpper = row.RealOrNull("colonisation_upper"),
            Extinction = row.RealOrNull("extinction"),
            ExtinctionLower = row.RealOrNull("extinction_lower"),
            ExtinctionUpper = row.RealOrNull("extinction_upper"),
            VisitsForAbsence = row.WholeOrNull("visits_for_absence"),
        },
        [
            new("area", rates => rates.Area.ToString()),
            new("species_id", rates => rates.Species.ToString()),
            new("basis", rates => ResultCode.Of(rates.Basis)),
            new("wetlands", rates => rates.Wetlands),
            new("wetlands_heard", rates => rates.WetlandsHeard),
            new("visits", rates => rates.Visits),
            new("colonisation", rates => rates.Colonisation),
            new("colonisation_lower", rates => rates.ColonisationLower),
            new("colonisation_upper", rates => rates.ColonisationUpper),
            new("extinction", rates => rates.Extinction),
            new("extinction_lower", rates => rates.ExtinctionLower),
            new("extinction_upper", rates => rates.ExtinctionUpper),
            new("visits_for_absence", rates => rates.VisitsForAbsence),
        ]);

    internal static readonly ResultTable<DetectionRate> Detection = new(
        "edition_detection",
        "area, species_id, CASE part WHEN 'early' THEN 0 WHEN 'middle' THEN 1 ELSE 2 END",
        row => new DetectionRate(
            row.Area(),
            row.Species(),
            row.Coded<WindowPart>("part"),
            row.Whole("visits"),
            row.WholeOrNull("detections"),
            row.Real("p"),
            row.RealOrNull("standard_error"),
            row.RealOrNull("lower"),
            row.RealOrNull("upper"),
            row.WholeOrNull("visits_for_absence"),
            row.WholeOrNull("visits_for_absence_cautious")),
        [
            new("area", rate => rate.Area.ToString()),
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
}
