using Indicators.Application.Import;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Application.Tests.Import;

/// <summary>What is taken all the same, and said.</summary>
public partial class ImportFolderTests
{
    [Fact]
    public void Wetland_named_differently_by_its_stations_keeps_the_first_name_and_warns()
    {
        using var folder = NightFolder.Good().Spoil("stations.csv", "-90.11,,", "-90.11,Wide Marsh,");
        var store = new MemoryStore();
        var report = folder.Import(store);
        Assert.Equal((ImportOutcome.NothingRefused, "Long Marsh"), (report.Outcome, store.Reference().Wetlands[0].Name));
        var warning = report.Problems.Single(p => p.Kind == ProblemKind.WetlandDisagrees);
        Assert.Equal((3, "Wide Marsh", "Long Marsh", 2), (warning.Line, warning.Value, warning.Stored, warning.OtherLine));
        Assert.All(folder.Import(store).Files, f => Assert.Equal(f.Read, f.Unchanged));
    }

    [Fact]
    public void Station_outside_the_shape_of_its_watershed_is_a_warning()
    {
        const string Shape = """
            {"type":"FeatureCollection","features":[
            {"type":"Feature","properties":{"watershed_code":"9901010101","name":"Other name"},"geometry":{"type":"Polygon","coordinates":[[[-91,45],[-90.105,45],[-90.105,46],[-91,46],[-91,45]]]}},
            {"type":"Feature","properties":{"watershed_code":"9901","name":"Sedge country"},"geometry":{"type":"Polygon","coordinates":[[[-91,45],[-90,45],[-90,46],[-91,46],[-91,45]]]}}]}
            """;
        using var folder = NightFolder.Good().With("watersheds.geojson", Shape);
        var store = new MemoryStore();
        var report = folder.Import(store);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        var warning = Assert.Single(report.Problems, p => p.Kind == ProblemKind.StationOutsideShape);
        Assert.Equal(("stations.csv", 2, "ST1", "9901010101"), (warning.File, warning.Line, warning.Value, warning.Thing));
        // The names of watersheds.csv win; a shape's name fills in.
        Assert.Equal(["9901 Sedge country", "99010101 Upper Sedge River", "9901010101 Reed Lakes", "9901010102 Alder Creek"],
            store.Reference().Watersheds.Select(w => $"{w.Code} {w.Name}"));
        Assert.All(folder.Import(store).Files, f => Assert.Equal(f.Read, f.Unchanged));

        folder.Spoil("watersheds.geojson", "[-91,45],[-90,45],[-90,46],", "[-91,45],[-90,45],[-90,47],");
        Assert.Equal([("watersheds.geojson", 3, ProblemKind.Conflict)], Refusals(folder.Import(store)));
    }

    [Fact]
    public void Watershed_that_nobody_names_is_a_warning_once_a_code()
    {
        using var folder = NightFolder.Good().Spoil("watersheds.csv", "9901010101,Reed Lakes\n", "");
        var report = folder.Import(new MemoryStore());
        var warning = Assert.Single(report.Problems);
        Assert.Equal((ProblemKind.WatershedNotNamed, "9901010101", 2), (warning.Kind, warning.Value, warning.Count));
    }

    [Fact]
    public void Protocol_not_kept_is_a_warning_counted_by_limit()
    {
        using var folder = NightFolder.Good().Spoil("surveys.csv", "S1,ST1,2024-04-20,21:15,5", "S1,ST1,2024-04-20,17:15,3")
            .Spoil("surveys.csv", "S2,ST2,2024-04-20,21:40,5", "S2,ST2,2024-04-20,02:00,3");
        var store = new MemoryStore();
        var report = folder.Import(store);
        Assert.Equal((ImportOutcome.NothingRefused, 4), (report.Outcome, store.Entries.Count));
        Assert.Equal(
            [(ProtocolBreach.TooShort, 2, "5"), (ProtocolBreach.TooEarly, 1, "30"), (ProtocolBreach.TooLate, 1, "01:00")],
            report.Problems.Where(p => p.Kind == ProblemKind.ProtocolNotKept).OrderBy(p => p.Breach).Select(p => (p.Breach!.Value, p.Count!.Value, p.Rule!)));
        Assert.Equal(["S1 on line 2", "S2 on line 3"], report.Problems.Single(p => p.Breach == ProtocolBreach.TooShort).Names);
        Assert.All(store.Entries.Values, e => Assert.Equal(ReviewStatus.Accepted, e.Review));
    }
}
