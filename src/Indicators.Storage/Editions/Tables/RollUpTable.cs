using Indicators.Analysis.Results;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Indices of larger watersheds fitted directly and rolled up from smaller ones.</summary>
internal static class RollUpTable
{
    internal static readonly ResultTable<RollUp> RollUps = new(
        "edition_rollup",
        "area, species_id, season",
        row => new RollUp
        {
            Area = row.Area(),
            Species = row.Species(),
            Season = row.Whole("season"),
            DirectIndex = row.Real("direct_index"),
            RolledUpIndex = row.RealOrNull("rolled_up_index"),
            Areas = row.Whole("areas"),
            StationShare = row.Real("station_share"),
        },
        [
            new("area", rollUp => rollUp.Area.ToString()),
            new("species_id", rollUp => rollUp.Species.ToString()),
            new("season", rollUp => rollUp.Season),
            new("direct_index", rollUp => rollUp.DirectIndex),
            new("rolled_up_index", rollUp => rollUp.RolledUpIndex),
            new("areas", rollUp => rollUp.Areas),
            new("station_share", rollUp => rollUp.StationShare),
        ]);
}
