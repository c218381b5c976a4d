using Indicators.Application.Import;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Application.Tests.Import;

/// <summary>A folder against what is stored already.</summary>
public partial class ImportFolderTests
{
    [Fact]
    public void Other_content_under_a_stored_id_is_a_conflict()
    {
        var store = Loaded();
        var before = store.Lines();
        using var folder = NightFolder.Good().Spoil("surveys.csv", "9.5", "9.6").Spoil("calls.csv", "S2,PSCR,2", "S2,PSCR,3")
            .Spoil("stations.csv", "Old dam", "New dam").Spoil("species.csv", "04-01", "04-02").Spoil("watersheds.csv", "Reed Lakes", "Reed Lake")
            .Spoil("expected.csv", "03-25", "03-26");
        var report = folder.Import(store, partial: true);
        Assert.Equal(before, store.Lines());
        Assert.Equal(
            [
                ("watersheds.csv", "name", "Reed Lake", "Reed Lakes"),
                ("stations.csv", "name", "New dam", "Old dam"),
                ("species.csv", "window_start", "04-02", "04-01"),
                ("expected.csv", "window_start", "03-26 to 05-15", "03-25 to 05-15"),
                ("surveys.csv", "air_temp_c", "9.6", "9.5"),
                ("surveys.csv", "calls", "PSCR 3", "PSCR 2"),
            ],
            report.Problems.Where(p => p.Kind == ProblemKind.Conflict).Select(p => (p.File, p.Column!, p.Value!, p.Stored!)));
        // The stored station and species stay usable: S3 listens at ST3 and is unchanged.
        Assert.Equal(new FileCounts("surveys.csv", 4, 0, 0, 2, 2, 0), Of(report, "surveys.csv"));
    }

    [Fact]
    public void Stored_surveys_are_compared_some_at_a_time()
    {
        const int Many = 70_000;
        static string Rows(string last) => string.Concat(Enumerable.Range(0, Many).Select(i => $"S{i},ST{1 + i % 3},2024-04-20,21:15,5,An Observer,{(i == Many - 1 ? last : "9.5")},2,\n"));
        string heading = NightFolder.Surveys[..(NightFolder.Surveys.IndexOf('\n', StringComparison.Ordinal) + 1)];
        var store = new MemoryStore();
        using var folder = NightFolder.Good().With("surveys.csv", heading + Rows("9.5"));
        Assert.Equal(new FileCounts("surveys.csv", Many, Many, 0, 0, 0, 0), Of(folder.Import(store), "surveys.csv"));
        Assert.Equal(new FileCounts("surveys.csv", Many, 0, 0, Many, 0, 0), Of(folder.Import(store), "surveys.csv"));
        var report = folder.With("surveys.csv", heading + Rows("9.6")).Import(store);
        Assert.Equal((ProblemKind.Conflict, Many + 1, "9.6"), report.Problems.Select(p => (p.Kind, p.Line!.Value, p.Value!)).Single());
        Assert.InRange(store.MostAskedFor, 1, Many / 2);
    }

    [Fact]
    public void Replacing_takes_the_new_content_of_surveys_and_reference_rows()
    {
        var store = Loaded();
        using var folder = NightFolder.Good().Spoil("surveys.csv", "9.5", "9.6").Spoil("stations.csv", "Old dam", "New dam")
            .Spoil("stations.csv", "Long Marsh", "Longer Marsh");
        var report = folder.Import(store, replace: true);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        Assert.Equal(new FileCounts("surveys.csv", 4, 1, 1, 3, 0, 0), Of(report, "surveys.csv"));
        Assert.Equal(new FileCounts("calls.csv", 6, 2, 2, 4, 0, 0), Of(report, "calls.csv"));
        Assert.Equal(new FileCounts("stations.csv", 3, 2, 2, 1, 0, 0), Of(report, "stations.csv"));
        Assert.Equal(9.6, store.Entries["S1"].Survey.AirTempC);
        Assert.Equal("New dam", store.Reference().Stations[2].Name);
        Assert.Equal("Longer Marsh", store.Reference().Wetlands[0].Name);
        Assert.All(folder.Import(store).Files, f => Assert.Equal(f.Read, f.Unchanged));
    }

    [Fact]
    public void Wetland_of_another_name_is_a_conflict_of_the_row_that_names_it()
    {
        var store = Loaded();
        var before = store.Lines();
        using var folder = NightFolder.Good().Spoil("stations.csv", "Long Marsh", "Short Marsh");
        var report = folder.Import(store, partial: true);
        Assert.Equal([("stations.csv", 2, ProblemKind.Conflict)], Refusals(report));
        Assert.Equal(before, store.Lines());
    }

    [Fact]
    public void Written_down_silence_and_a_row_left_out_are_the_same()
    {
        var store = Loaded();
        using var folder = NightFolder.Good().Spoil("calls.csv", "S3,LISY,0\n", "S2,ACCR,0\n");
        var report = folder.Import(store);
        Assert.Equal(new FileCounts("surveys.csv", 4, 0, 0, 4, 0, 0), Of(report, "surveys.csv"));
    }

    [Fact]
    public void File_whose_content_is_stored_may_be_missing()
    {
        var store = Loaded();
        using var folder = NightFolder.Good().Without("watersheds.csv").Without("stations.csv").Without("species.csv").Without("expected.csv")
            .Spoil("surveys.csv", "S4,", "S5,").Spoil("calls.csv", "S4,", "S5,");
        var report = folder.Import(store);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        Assert.Equal(["S1", "S2", "S3", "S4", "S5"], store.Entries.Keys);
        Assert.Equal(["surveys.csv", "calls.csv"], report.Files.Select(f => f.File));
    }

    [Fact]
    public void Calls_without_their_surveys_are_refused_whether_or_not_these_are_stored()
    {
        var store = Loaded();
        using var folder = NightFolder.Good().Without("surveys.csv").Spoil("calls.csv", "S4,", "S8,");
        var report = folder.Import(store, partial: true);
        Assert.Equal([.. Enumerable.Repeat(ProblemKind.CallWithoutItsSurvey, 5), ProblemKind.ReferenceUnknown], Refusals(report).Select(r => r.Kind));
        Assert.Equal(1, store.Imports);
    }

    [Fact]
    public void New_surveys_without_a_file_of_calls_are_refused_and_stored_ones_keep_theirs()
    {
        var store = Loaded();
        var before = store.Lines();
        using var folder = NightFolder.Good().Without("calls.csv").Spoil("surveys.csv", "S4,", "S5,");
        var report = folder.Import(store, partial: true);
        Assert.Equal([("surveys.csv", 5, ProblemKind.SurveyWithoutCalls)], Refusals(report));
        Assert.Equal(3, Of(report, "surveys.csv").Unchanged);
        Assert.Equal(before, store.Lines());
    }
}
