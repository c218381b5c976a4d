using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Storage.Editions.Tables;

/// <summary>Areas, the species expected in them, their shapes and the listening they had.</summary>
internal static class AreaTables
{
    /// <summary>Areas without their expected lists, which stand in a table of their own.</summary>
    internal static readonly ResultTable<Area> Areas = new(
        "edition_area",
        "area",
        row => new Area
        {
            Code = row.Area(),
            Name = row.TextOrNull("name"),
            Stations = row.Whole("stations"),
            Wetlands = row.Whole("wetlands"),
            Surveys = row.Whole("surveys"),
            FirstSeason = row.Whole("first_season"),
            LastSeason = row.Whole("last_season"),
            ExpectedIsGiven = row.Flag("expected_is_given"),
        },
        [
            new("area", area => area.Code.ToString()),
            new("name", area => area.Name),
            new("stations", area => area.Stations),
            new("wetlands", area => area.Wetlands),
            new("surveys", area => area.Surveys),
            new("first_season", area => area.FirstSeason),
            new("last_season", area => area.LastSeason),
            new("expected_is_given", area => area.ExpectedIsGiven),
        ]);

    internal static readonly ResultTable<(WatershedCode Area, Id<Species> Species)> Expected = new(
        "edition_expected",
        "area, species_id",
        row => (row.Area(), row.Species()),
        [
            new("area", pair => pair.Area.ToString()),
            new("species_id", pair => pair.Species.ToString()),
        ]);

    internal static readonly ResultTable<AreaShape> Shapes = new(
        "edition_shape",
        "area",
        row => new AreaShape(row.Area(), row.Text("geometry")),
        [
            new("area", shape => shape.Code.ToString()),
            new("geometry", shape => shape.GeometryJson),
        ]);

    internal static readonly ResultTable<SeasonEffort> Effort = new(
        "edition_effort",
        "area, season",
        row => new SeasonEffort(row.Area(), row.Whole("season"), row.Whole("stations"), row.Whole("wetlands"), row.Whole("surveys")),
        [
            new("area", effort => effort.Area.ToString()),
            new("season", effort => effort.Season),
            new("stations", effort => effort.Stations),
            new("wetlands", effort => effort.Wetlands),
            new("surveys", effort => effort.Surveys),
        ]);
}
