using System.Text;
using Indicators.Application.Import;
using Indicators.Monitoring;
using Indicators.Storage;
using Indicators.Storage.Surveys;
using Indicators.Wording.Problems;
using Xunit;

namespace Indicators.Application.Tests.Import;

/// <summary>What must hold for any folder, however broken, over generated ones.</summary>
public class ImportFolderPropertyTests
{
    /// <summary>1,000 folders in all.</summary>
    [Theory]
    [InlineData(false, 700)]
    [InlineData(true, 300)]
    public void Any_folder_loads_what_is_complete_rejects_the_rest_and_touches_nothing_else(bool replace, int folders)
    {
        int withRefusals = 0, loaded = 0, conflicts = 0;
        BrokenFolders.Each(folders, broken =>
        {
            using var folder = new NightFolder();
            broken.Write(folder);
            var store = SomeOfIt.Copy();
            var before = store.Lines();

            var report = folder.Import(store, partial: true, replace: replace);
            var after = store.Lines();
            CountsAddUp(broken, report);
            RefusedRowsAreInTheRejects(folder, broken, report);
            OnlyTheFolderTouchedTheStore(before, after, report, replace);
            SurveysAreWhole(broken, store, report);

            // Mending nothing and importing again changes nothing more.
            byte[][] rejects = Rejects(folder);
            int imports = store.Imports;
            var again = folder.Import(store, partial: true, replace: replace);
            Assert.Equal((imports, report.Outcome), (store.Imports, again.Outcome));
            Assert.Equal(after, store.Lines());
            Assert.Equal(report.Files.Select(f => (f.File, f.Read, f.Stored + f.Unchanged, f.Refused)), again.Files.Select(f => (f.File, f.Read, f.Unchanged, f.Refused)));
            Assert.Equal(rejects, Rejects(folder));

            if (report.Outcome == ImportOutcome.SomethingRefused) Interlocked.Increment(ref withRefusals);
            if (report.Files.Any(f => f.File == "surveys.csv" && f.Stored > 0)) Interlocked.Increment(ref loaded);
            if (report.Problems.Any(p => p.Kind == ProblemKind.Conflict)) Interlocked.Increment(ref conflicts);
        });

        // The folders are worth the name: most are broken, most still have surveys to load, some clash with what is stored.
        Assert.InRange(withRefusals, folders / 2, folders);
        Assert.InRange(loaded, folders / 3, folders);
        Assert.Equal(replace, conflicts == 0);
    }

    [Fact]
    public void Any_refusal_without_the_wish_for_a_part_loads_nothing()
    {
        BrokenFolders.Each(200, broken =>
        {
            using var folder = new NightFolder();
            broken.Write(folder);
            var store = SomeOfIt.Copy();
            var before = store.Lines();
            var report = folder.Import(store);
            CountsAddUp(broken, report);
            Assert.Equal(report.Outcome == ImportOutcome.NothingRefused, report.IsLoaded);
            Assert.Equal(report.Outcome == ImportOutcome.SomethingRefused, Directory.Exists(folder.Rejects));
            if (!report.IsLoaded) Assert.Equal(before, store.Lines());
        });
    }

    /// <summary>The database must end where the store in memory ends, whatever the folder.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Any_folder_leaves_the_same_in_a_database(bool replace)
    {
        var root = Directory.CreateTempSubdirectory("indicators-");
        try
        {
            string template = Path.Combine(root.FullName, "template.db");
            using (var database = Database.Open(template, DatabaseAccess.CreateOrWrite).Database!)
            using (var folder = SomeOfItFolder())
                folder.Import(new SurveyStore(database));

            int number = 0;
            BrokenFolders.Each(60, broken =>
            {
                using var folder = new NightFolder();
                broken.Write(folder);
                var memory = SomeOfIt.Copy();
                var expected = folder.Import(memory, partial: true, replace: replace);

                string file = Path.Combine(root.FullName, $"{Interlocked.Increment(ref number)}.db");
                File.Copy(template, file);
                using var database = Database.Open(file, DatabaseAccess.Write).Database!;
                var store = new SurveyStore(database);
                for (int time = 0; time < 2; time++)
                {
                    var report = folder.Import(store, partial: true, replace: replace);
                    Assert.Equal(expected.Problems.Select(ProblemSentences.Sentence), report.Problems.Select(ProblemSentences.Sentence));
                    if (time == 0) Assert.Equal(expected.Files, report.Files);
                    if (time == 1) Assert.Equal(0, report.Files.Sum(f => f.Stored));
                    Assert.Equal(
                        memory.Lines().Order(StringComparer.Ordinal),
                        StoreText.Lines(store.Reference(), store.Accepted().Surveys, store.Settings()).Order(StringComparer.Ordinal));
                }
            });
        }
        finally
        {
            root.Delete(recursive: true);
        }
    }

    /// <summary>Three stations, two surveys as the good folder has them, one with other content and one it never has.</summary>
    private static readonly MemoryStore SomeOfIt = StoreWithSomeOfIt();

    private static MemoryStore StoreWithSomeOfIt()
    {
        var store = new MemoryStore();
        using var folder = SomeOfItFolder();
        Assert.Equal(ImportOutcome.NothingRefused, folder.Import(store).Outcome);
        return store;
    }

    private static NightFolder SomeOfItFolder() => NightFolder.Good()
        .With("surveys.csv", "survey_id,station_id,date,start_time,minutes,observer,air_temp_c,wind_beaufort,notes\nS1,ST1,2024-04-20,21:15,5,An Observer,9.5,2,calm\nS3,ST3,2024-04-21,21:30,5,A. Nother,8,3,\nS6,ST3,2025-04-23,22:00,4,A. Nother,10,0,\nS0,ST2,2023-04-20,22:00,5,,,,\n")
        .With("calls.csv", "survey_id,species_id,call_index\nS1,PSCR,3\nS1,LISY,1\nS3,PSCR,1\nS0,ACCR,2\n");

    private static void CountsAddUp(BrokenFolder broken, ImportReport report)
    {
        foreach (var file in report.Files)
        {
            Assert.Equal(file.Read, file.Stored + file.Unchanged + file.Refused + file.NotLoaded);
            if (broken.KeepsRowsApart)
                Assert.Equal(broken.Files[file.File].Skip(1).Count(l => l.AsSpan().IndexOfAnyExcept(" ,"u8) >= 0), file.Read);
        }
    }

    private static byte[][] Rejects(NightFolder folder) =>
        Directory.Exists(folder.Rejects) ? [.. Directory.GetFiles(folder.Rejects).Order(StringComparer.Ordinal).Select(File.ReadAllBytes)] : [];

    private static void RefusedRowsAreInTheRejects(NightFolder folder, BrokenFolder broken, ImportReport report)
    {
        foreach (var file in report.Files)
        {
            string path = Path.Combine(folder.Rejects, file.File);
            bool wholeRefused = report.Problems.Any(p => p.File == file.File && p.Severity == ProblemSeverity.Refusal
                && p.Kind is ProblemKind.ColumnsMissing or ProblemKind.ColumnRepeated or ProblemKind.QuoteNotClosed or ProblemKind.QuoteClosedLate);
            Assert.Equal(file.Refused > 0 || wholeRefused, File.Exists(path));
            if (!File.Exists(path)) continue;
            byte[] written = File.ReadAllBytes(path);
            if (File.Exists(path + ".reason.txt"))
            {
                Assert.True(wholeRefused);
                Assert.Equal(File.ReadAllBytes(Path.Combine(folder.Folder, file.File)), written);
                continue;
            }
            if (!broken.KeepsRowsApart) continue;

            // Each rejected line is an original line, once for each time it stands there, with a reason behind it.
            var original = broken.Files[file.File].Select(Encoding.Latin1.GetString).ToList();
            string[] rejected = Encoding.Latin1.GetString(written).TrimEnd('\n').Split('\n');
            Assert.Equal(original[0] + ",reason", rejected[0]);
            Assert.Equal(file.Refused, rejected.Length - 1);
            int from = 1;
            foreach (string line in rejected[1..])
            {
                int end = line.LastIndexOf(",\"", line.Length - 2, StringComparison.Ordinal);
                int found = original.FindIndex(from, o => line.StartsWith(o + ",\"", StringComparison.Ordinal));
                Assert.True(end > 0 && found >= from, $"Not a line of {file.File}: {line}");
                Assert.EndsWith(".\"", line, StringComparison.Ordinal);
                from = found + 1;
            }
        }
    }

    private static void OnlyTheFolderTouchedTheStore(IReadOnlyList<string> before, IReadOnlyList<string> after, ImportReport report, bool replace)
    {
        static string NameOf(string line) => string.Join(' ', line.Split(' ')[..2]);
        var were = before.ToDictionary(NameOf, StringComparer.Ordinal);
        var are = after.ToDictionary(NameOf, StringComparer.Ordinal);
        Assert.All(were.Keys, name => Assert.Contains(name, are.Keys));
        int changed = were.Count(w => are[w.Key] != w.Value);
        int replaced = report.Files.Sum(f => f.Replaced);
        Assert.True(replace || changed == 0, "Something stored has changed.");
        Assert.True(changed <= replaced, "More has changed than was replaced.");
        Assert.Equal(were["survey S0"], are["survey S0"]);
    }

    /// <summary>
    /// Counted by hand from the lines: a survey that was stored has as many calls as the folder has rows for it, and one
    /// that was not is as it was.
    /// </summary>
    private static void SurveysAreWhole(BrokenFolder broken, MemoryStore store, ImportReport report)
    {
        if (!broken.KeepsRowsApart || !broken.Files.TryGetValue("calls.csv", out var calls) || !broken.Files.ContainsKey("surveys.csv")) return;
        int at = Array.IndexOf(Encoding.Latin1.GetString(calls[0]).Split(','), "survey_id");
        if (at < 0) return;
        var rows = calls.Skip(1).Select(l => Encoding.UTF8.GetString(l).Split(',')).Where(c => c.Length > at).CountBy(c => c[at].Trim()).ToDictionary();
        var fresh = store.Entries.Values.Where(e => e.Survey.Id.ToString() is "S2" or "S4" or "S5" or "S7").ToList();
        Assert.All(fresh, e => Assert.Equal(rows.GetValueOrDefault(e.Survey.Id.ToString()), e.Survey.Calls.Count));
        Assert.True(fresh.Count <= report.Files.Single(f => f.File == "surveys.csv").Stored);
    }
}
