using System.Globalization;
using Indicators.Analysis.Options;
using Indicators.Application.Import;
using Indicators.Monitoring;
using Indicators.Wording.Problems;
using Xunit;

namespace Indicators.Application.Tests.Import;

public partial class ImportFolderTests
{
    private static FileCounts Of(ImportReport report, string file) => report.Files.Single(f => f.File == file);

    private static MemoryStore Loaded()
    {
        var store = new MemoryStore();
        using var folder = NightFolder.Good();
        Assert.Equal(ImportOutcome.NothingRefused, folder.Import(store).Outcome);
        return store;
    }

    private static IEnumerable<(string File, int? Line, ProblemKind Kind)> Refusals(ImportReport report) =>
        report.Problems.Where(p => p.Severity == ProblemSeverity.Refusal).Select(p => (p.File, p.Line, p.Kind));

    [Fact]
    public void Good_folder_is_loaded_with_who_when_and_from_which_line()
    {
        using var folder = NightFolder.Good();
        var store = new MemoryStore();
        var report = folder.Import(store);
        Assert.Equal((ImportOutcome.NothingRefused, true, null), (report.Outcome, report.IsLoaded, report.Rejects));
        Assert.Equal(new FileCounts("surveys.csv", 4, 4, 0, 0, 0, 0), Of(report, "surveys.csv"));
        Assert.Equal(new FileCounts("calls.csv", 6, 6, 0, 0, 0, 0), Of(report, "calls.csv"));
        Assert.Equal(new FileCounts("stations.csv", 3, 3, 0, 0, 0, 0), Of(report, "stations.csv"));
        Assert.Equal(("desk", NightFolder.Now, "night"), (store.LastOrigin!.Who, store.LastOrigin.When, store.LastOrigin.Folder));
        Assert.Equal(("surveys.csv", 4, ReviewStatus.Accepted), (store.Entries["S3"].File, store.Entries["S3"].Line, store.Entries["S3"].Review));
        Assert.Equal("LISY=0 PSCR=1", string.Join(' ', store.Entries["S3"].Survey.Calls.Select(c => $"{c.Species}={c.Level}")));
        Assert.Equal(["Long Marsh", "Dam Pond"], store.Reference().Wetlands.Select(w => w.Name));
        Assert.False(Directory.Exists(folder.Rejects));
    }

    [Fact]
    public void Same_folder_twice_changes_nothing()
    {
        var store = Loaded();
        var before = store.Lines();
        using var folder = NightFolder.Good();
        var report = folder.Import(store);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        Assert.All(report.Files, f => Assert.Equal((f.Read, 0, f.Read), (f.Unchanged, f.Stored, f.Read)));
        Assert.Equal(before, store.Lines());
        Assert.Equal(1, store.Imports);
    }

    /// <summary>The broken folder of issue 2 [e].</summary>
    private static NightFolder Broken() => NightFolder.Good()
        .Spoil("surveys.csv", "S2,ST2,2024-04-20", "S2,ST2,20 April")
        .Spoil("surveys.csv", "S3,ST3", "S3,ST9")
        .Spoil("stations.csv", "45.20", "north")
        .Spoil("calls.csv", "S4,PSCR,3", "S4,PSCR,7\nS9,PSCR,1");

    [Fact]
    public void Broken_folder_loads_nothing_and_names_each_fault()
    {
        using var folder = Broken();
        var store = new MemoryStore();
        var report = folder.Import(store);
        Assert.Equal((ImportOutcome.SomethingRefused, false), (report.Outcome, report.IsLoaded));
        Assert.Equal(0, store.Imports);
        Assert.Equal(
            [
                ("stations.csv", 4, ProblemKind.Value),
                ("surveys.csv", 3, ProblemKind.Value),
                ("surveys.csv", 4, ProblemKind.ReferenceUnknown),
                ("surveys.csv", 5, ProblemKind.SurveyWithRefusedCall),
                ("calls.csv", 4, ProblemKind.CallOfRefusedSurvey),
                ("calls.csv", 5, ProblemKind.CallOfRefusedSurvey),
                ("calls.csv", 6, ProblemKind.CallOfRefusedSurvey),
                ("calls.csv", 7, ProblemKind.Value),
                ("calls.csv", 8, ProblemKind.ReferenceUnknown),
            ],
            Refusals(report));
        Assert.Equal(new FileCounts("surveys.csv", 4, 0, 0, 0, 3, 1), Of(report, "surveys.csv"));
        Assert.Equal(folder.Rejects, report.Rejects);
    }

    [Fact]
    public void Broken_folder_in_part_loads_every_complete_survey()
    {
        using var folder = Broken();
        var store = new MemoryStore();
        var report = folder.Import(store, partial: true);
        Assert.Equal((ImportOutcome.SomethingRefused, true), (report.Outcome, report.IsLoaded));
        Assert.Equal(["S1"], store.Entries.Keys);
        Assert.Equal(2, store.Entries["S1"].Survey.Calls.Count);
        Assert.Equal(new FileCounts("surveys.csv", 4, 1, 0, 0, 3, 0), Of(report, "surveys.csv"));
        Assert.Equal(new FileCounts("calls.csv", 7, 2, 0, 0, 5, 0), Of(report, "calls.csv"));
    }

    [Fact]
    public void Survey_with_one_bad_call_goes_to_the_rejects_with_all_its_calls()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S1,LISY,1", "S1,LISY,7");
        folder.Import(new MemoryStore());
        Assert.Equal(["calls.csv", "surveys.csv"], Directory.GetFiles(folder.Rejects).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Equal(
            """
            survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,notes,reason
            S1,ST1,2024-04-20,21:15,5,An Observer,9.5,2,"calm, clear","A call of this survey was refused, on line 3 of calls.csv, and without it the species would count as silent: mend that row, and give the survey and all its calls together."

            """,
            folder.RejectedText("surveys.csv"));
        Assert.Equal(
            """
            survey_id,species_id,call_index,reason
            S1,PSCR,3,"survey_id: Its survey 'S1' was refused, on line 2 of surveys.csv: a survey is taken with all its calls or not at all."
            S1,LISY,7,"call_index: '7' is not a call level: give 0 (not heard), 1 (calls with gaps), 2 (calls overlap) or 3 (full chorus)."

            """,
            folder.RejectedText("calls.csv"));
    }

    [Fact]
    public void Mended_rejects_load_and_complete_what_the_first_import_left_out()
    {
        using var folder = Broken();
        var store = new MemoryStore();
        folder.Import(store, partial: true);
        using var mended = new NightFolder();
        foreach (string file in Directory.GetFiles(folder.Rejects)) mended.With(Path.GetFileName(file), File.ReadAllBytes(file));
        mended.Spoil("surveys.csv", "ST2,20 April,", "ST2,2024-04-20,").Spoil("surveys.csv", "S3,ST9,", "S3,ST3,")
            .Spoil("stations.csv", "9901010102,north,", "9901010102,45.20,")
            .Spoil("calls.csv", "S4,PSCR,7,", "S4,PSCR,3,").Spoil("calls.csv", "S9,PSCR,1,", "S4,LISY,1,");
        var report = mended.Import(store);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
        Assert.Equal(["S1", "S2", "S3", "S4"], store.Entries.Keys);
        Assert.Equal([2, 1, 2, 2], store.Entries.Values.Select(e => e.Survey.Calls.Count));
    }

    [Fact]
    public void Reference_to_a_refused_row_says_so_and_on_which_line()
    {
        using var folder = NightFolder.Good().Spoil("stations.csv", "45.20", "north").Spoil("species.csv", "03-20", "spring");
        var report = folder.Import(new MemoryStore());
        var survey = report.Problems.Single(p => p is { File: "surveys.csv", Line: 4 });
        Assert.Equal((ProblemKind.ReferenceRefused, "ST3", "stations.csv", 4), (survey.Kind, survey.Value, survey.OtherFile, survey.OtherLine));
        var call = report.Problems.Single(p => p is { File: "calls.csv", Line: 3 });
        Assert.Equal((ProblemKind.ReferenceRefused, "LISY", "species.csv", 3), (call.Kind, call.Value, call.OtherFile, call.OtherLine));
        var expected = report.Problems.Single(p => p.File == "expected.csv");
        Assert.Equal((ProblemKind.ReferenceRefused, 3), (expected.Kind, expected.Line));
    }

    [Fact]
    public void Same_survey_id_twice_refuses_all_its_rows_and_calls()
    {
        using var folder = NightFolder.Good().Spoil("surveys.csv", "S2,ST2", "S1,ST2");
        var store = new MemoryStore();
        var report = folder.Import(store, partial: true);
        Assert.Equal(["S3", "S4"], store.Entries.Keys);
        Assert.Equal(
            [
                ("surveys.csv", 2, ProblemKind.IdRepeated),
                ("surveys.csv", 3, ProblemKind.IdRepeated),
                ("calls.csv", 2, ProblemKind.CallOfRefusedSurvey),
                ("calls.csv", 3, ProblemKind.CallOfRefusedSurvey),
                ("calls.csv", 4, ProblemKind.ReferenceUnknown),
            ],
            Refusals(report));
    }

    [Fact]
    public void Same_species_twice_on_a_survey_refuses_the_survey()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S3,LISY,0", "S3,PSCR,0");
        var store = new MemoryStore();
        folder.Import(store, partial: true);
        Assert.Equal(["S1", "S2", "S4"], store.Entries.Keys);
    }

    [Fact]
    public void Silent_night_is_a_survey()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S4,PSCR,3\n", "");
        var store = new MemoryStore();
        Assert.Equal(ImportOutcome.NothingRefused, folder.Import(store).Outcome);
        Assert.Empty(store.Entries["S4"].Survey.Calls);
    }

    [Fact]
    public void Folder_of_reference_files_alone_is_fine()
    {
        using var folder = NightFolder.Good().Without("surveys.csv").Without("calls.csv");
        var store = new MemoryStore();
        Assert.Equal(ImportOutcome.NothingRefused, folder.Import(store).Outcome);
        Assert.Equal(3, store.Reference().Stations.Count);
    }

    [Fact]
    public void File_of_calls_that_is_refused_refuses_every_survey()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S4,PSCR,3", "S4,\"PSCR,3");
        var store = new MemoryStore();
        var report = folder.Import(store, partial: true);
        Assert.Empty(store.Entries);
        Assert.Equal((ProblemKind.QuoteNotClosed, 7), (report.Problems.Single(p => p.File == "calls.csv").Kind, report.Problems.Single(p => p.File == "calls.csv").Line));
        Assert.Equal(4, report.Problems.Count(p => p.Kind == ProblemKind.SurveyWithoutCallsFile));
        Assert.Equal(File.ReadAllBytes(Path.Combine(folder.Folder, "calls.csv")), File.ReadAllBytes(Path.Combine(folder.Rejects, "calls.csv")));
        Assert.StartsWith("calls.csv line 7: The quote", folder.RejectedText("calls.csv.reason.txt"), StringComparison.Ordinal);
    }

    [Fact]
    public void File_without_a_required_column_is_rejected_with_the_reason_on_each_row()
    {
        using var folder = NightFolder.Good().Spoil("stations.csv", "wetland_id", "pond");
        var report = folder.Import(new MemoryStore());
        Assert.Equal(new FileCounts("stations.csv", 3, 0, 0, 0, 3, 0), Of(report, "stations.csv"));
        Assert.Equal(4, report.Problems.Count(p => p is { Kind: ProblemKind.ReferenceFileRefused, File: "surveys.csv", OtherFile: "stations.csv" }));
        string[] lines = folder.RejectedText("stations.csv").TrimEnd().Split('\n');
        Assert.Equal(4, lines.Length);
        Assert.All(lines[1..], l => Assert.EndsWith("Found: station_id, name, pond, watershed_code, latitude, longitude, wetland_name and weight.\"", l, StringComparison.Ordinal));
    }

    [Fact]
    public void Call_whose_row_cannot_be_read_still_refuses_its_survey()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S2,PSCR,2", "S2,PSCR");
        var store = new MemoryStore();
        folder.Import(store, partial: true);
        Assert.Equal(["S1", "S3", "S4"], store.Entries.Keys);
    }

    [Fact]
    public void Expected_list_of_an_unknown_species_is_refused()
    {
        using var folder = NightFolder.Good().Spoil("expected.csv", "99010101,PSCR", "99010101,HYLA");
        Assert.Equal([("expected.csv", 2, ProblemKind.ReferenceUnknown)], Refusals(folder.Import(new MemoryStore())));
    }

    [Fact]
    public void Date_after_today_in_the_programmes_zone_is_refused()
    {
        // 18:00 universal time on 1 June is already 2 June in Auckland.
        using var folder = NightFolder.Good().Spoil("surveys.csv", "S4,ST1,2025-04-22", "S4,ST1,2026-06-02");
        Assert.Equal([ProblemKind.FutureDate, ProblemKind.CallOfRefusedSurvey], Refusals(folder.Import(new MemoryStore())).Select(r => r.Kind));
        var request = folder.Request() with { Settings = new ProgrammeSettings { TimeZone = "Pacific/Auckland" } };
        var report = ImportFolder.Run(request, new MemoryStore(), new StoppedClock(NightFolder.Now), null, TestContext.Current.CancellationToken);
        Assert.Equal(ImportOutcome.NothingRefused, report.Outcome);
    }

    [Fact]
    public void Check_gives_the_same_report_and_writes_nothing()
    {
        using var folder = Broken();
        var store = Loaded();
        var before = store.Lines();
        var check = ImportFolder.Check(folder.Request(), store, new StoppedClock(NightFolder.Now), null, TestContext.Current.CancellationToken);
        Assert.False(Directory.Exists(folder.Rejects));
        Assert.Equal(before, store.Lines());
        var import = folder.Import(store);
        Assert.Equal(import.Problems.Select(ProblemSentences.Sentence), check.Problems.Select(ProblemSentences.Sentence));
        Assert.Equal(import.Files, check.Files);
        Assert.Equal((import.Outcome, false, null), (check.Outcome, check.IsLoaded, check.Rejects));
        using var good = NightFolder.Good();
        var alone = ImportFolder.Check(good.Request(), null, new StoppedClock(NightFolder.Now), null, TestContext.Current.CancellationToken);
        Assert.Equal((ImportOutcome.NothingRefused, 4), (alone.Outcome, Of(alone, "surveys.csv").NotLoaded));
    }

    [Fact]
    public void Settings_are_stored_once_and_only_with_a_load()
    {
        using var folder = NightFolder.Good();
        var store = new MemoryStore();
        var request = folder.Request() with { Settings = new ProgrammeSettings { Name = "Lakes" } };
        var clock = new StoppedClock(NightFolder.Now);
        ImportFolder.Run(request, store, clock, null, TestContext.Current.CancellationToken);
        ImportFolder.Run(request, store, clock, null, TestContext.Current.CancellationToken);
        Assert.Equal(("Lakes", 1), (store.Settings()!.Name, store.Imports));
        folder.Spoil("calls.csv", "S4,PSCR,3", "S4,PSCR,9");
        ImportFolder.Run(request with { Settings = new ProgrammeSettings { Name = "Rivers" } }, store, clock, null, TestContext.Current.CancellationToken);
        Assert.Equal("Lakes", store.Settings()!.Name);
    }

    [Fact]
    public void Interrupted_import_leaves_the_store_as_it_was()
    {
        using var folder = NightFolder.Good();
        var store = new MemoryStore();
        using var cancel = new CancellationTokenSource();
        var progress = new Listener(p => { if (p.Stage == ImportStage.Checking) cancel.Cancel(); });
        Assert.Throws<OperationCanceledException>(() => ImportFolder.Run(folder.Request(), store, new StoppedClock(NightFolder.Now), progress, cancel.Token));
        Assert.Equal(0, store.Imports);
    }

    [Fact]
    public void Progress_goes_through_reading_checking_and_storing()
    {
        using var folder = NightFolder.Good();
        var reports = new List<ImportProgress>();
        ImportFolder.Run(folder.Request(), new MemoryStore(), new StoppedClock(NightFolder.Now), new Listener(reports.Add), TestContext.Current.CancellationToken);
        Assert.Equal([ImportStage.Reading, ImportStage.Checking, ImportStage.Storing], reports.Select(r => r.Stage).Distinct());
        Assert.All(reports, r => Assert.InRange(r.Done, 0, r.Total));
        Assert.Equal(new ImportProgress(ImportStage.Storing, 4, 4), reports[^1]);
    }

    [Fact]
    public void Folder_that_is_missing_or_rejects_that_would_overwrite_are_failures()
    {
        using var folder = NightFolder.Good();
        var clock = new StoppedClock(NightFolder.Now);
        ProblemKind FailureOf(ImportRequest request)
        {
            var report = ImportFolder.Run(request, new MemoryStore(), clock, null, TestContext.Current.CancellationToken);
            Assert.Equal((ImportOutcome.Failed, false), (report.Outcome, report.IsLoaded));
            return Assert.Single(report.Problems).Kind;
        }

        Assert.Equal(ProblemKind.FolderMissing, FailureOf(folder.Request() with { Folder = folder.Folder + "x" }));
        Assert.Equal(ProblemKind.RejectsInsideFolder, FailureOf(folder.Request() with { Rejects = folder.Folder }));
        using var other = NightFolder.Good();
        Assert.Equal(ProblemKind.RejectsFileNotOurs, FailureOf(folder.Request() with { Rejects = other.Folder }));
        Assert.Equal(NightFolder.Surveys, File.ReadAllText(Path.Combine(other.Folder, "surveys.csv")));
    }

    [Fact]
    public void Rejects_of_an_earlier_import_stay_when_the_store_fails()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S4,PSCR,3", "S4,PSCR,9");
        folder.Import(new MemoryStore());
        folder.Spoil("calls.csv", "S4,PSCR,9", "S4,PSCR,3");
        using var cancel = new CancellationTokenSource();
        var progress = new Listener(p => { if (p.Stage == ImportStage.Checking) cancel.Cancel(); });
        Assert.Throws<OperationCanceledException>(() => ImportFolder.Run(folder.Request(), new MemoryStore(), new StoppedClock(NightFolder.Now), progress, cancel.Token));
        Assert.True(File.Exists(Path.Combine(folder.Rejects, "calls.csv")));
    }

    [Fact]
    public void Rejects_of_an_earlier_import_go_when_nothing_is_refused_any_more()
    {
        using var folder = NightFolder.Good().Spoil("calls.csv", "S4,PSCR,3", "S4,PSCR,9");
        var store = new MemoryStore();
        folder.Import(store);
        Assert.True(Directory.Exists(folder.Rejects));
        folder.Spoil("calls.csv", "S4,PSCR,9", "S4,PSCR,3").Import(store);
        Assert.False(Directory.Exists(folder.Rejects));
    }

    [Fact]
    public void Import_is_the_same_under_a_comma_decimal_culture()
    {
        using var folder = Broken().Spoil("surveys.csv", "9.5", "9,5");
        var expected = new MemoryStore();
        var report = folder.Import(expected, partial: true);
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(9.5, double.Parse("9,5", CultureInfo.CurrentCulture));
            var store = new MemoryStore();
            var there = folder.Import(store, partial: true);
            Assert.Equal(report.Problems.Select(ProblemSentences.Sentence), there.Problems.Select(ProblemSentences.Sentence));
            Assert.Contains(there.Problems, p => p is { Kind: ProblemKind.CellCount, File: "surveys.csv", Line: 2 });
            Assert.Equal(expected.Lines(), store.Lines());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private sealed class Listener(Action<ImportProgress> report) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => report(value);
    }
}
