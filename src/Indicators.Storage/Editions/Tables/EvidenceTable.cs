using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Storage.Editions.Tables;

/// <summary>How well trends are supported.</summary>
internal static class EvidenceTable
{
    internal static readonly ResultTable<SeriesEvidence> Evidence = new(
        "edition_evidence",
        "area, species_id",
        row => new SeriesEvidence
        {
            Area = row.Area(),
            Species = row.Species(),
            Grade = row.Coded<Evidence>("grade"),
            Reasons = (EvidenceReason)row.Whole("reasons"),
            LeaveOneOutChange = row.RealOrNull("leave_one_out_change"),
            LeftOut = row.TextOrNull("left_out") is { } wetland ? StoredText.Id<Wetland>(wetland) : null,
            LeftOutStations = row.WholeOrNull("left_out_stations"),
            SignHolds = row.WholeOrNull("sign_holds") is { } holds ? holds != 0 : null,
            Dispersion = row.RealOrNull("dispersion"),
            DispersionDf = row.WholeOrNull("dispersion_df"),
            ZeroCellShare = row.RealOrNull("zero_cell_share"),
            Seasons = row.Whole("seasons"),
            OneStationSeasons = row.WholeOrNull("one_station_seasons"),
            CeilingShare = row.RealOrNull("ceiling_share"),
            Observers = row.WholeOrNull("observers"),
            NewObserverShare = row.RealOrNull("new_observer_share"),
            OutsideProtocolShare = row.RealOrNull("outside_protocol_share"),
        },
        [
            new("area", evidence => evidence.Area.ToString()),
            new("species_id", evidence => evidence.Species.ToString()),
            new("grade", evidence => ResultCode.Of(evidence.Grade)),
            new("reasons", evidence => (int)evidence.Reasons),
            new("leave_one_out_change", evidence => evidence.LeaveOneOutChange),
            new("left_out", evidence => evidence.LeftOut?.ToString()),
            new("left_out_stations", evidence => evidence.LeftOutStations),
            new("sign_holds", evidence => evidence.SignHolds),
            new("dispersion", evidence => evidence.Dispersion),
            new("dispersion_df", evidence => evidence.DispersionDf),
            new("zero_cell_share", evidence => evidence.ZeroCellShare),
            new("seasons", evidence => evidence.Seasons),
            new("one_station_seasons", evidence => evidence.OneStationSeasons),
            new("ceiling_share", evidence => evidence.CeilingShare),
            new("observers", evidence => evidence.Observers),
            new("new_observer_share", evidence => evidence.NewObserverShare),
            new("outside_protocol_share", evidence => evidence.OutsideProtocolShare),
        ]);
}
