using Dapper;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using NodaTime;
using Xunit;

namespace Indicators.Storage.Tests.Surveys;

public sealed class SurveyStoreTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly Database _database;
    private readonly SurveyStore _store;

    public SurveyStoreTests()
    {
        _database = Database.Open(_folder.Database, DatabaseAccess.CreateOrWrite).Database!;
        _store = new SurveyStore(_database);
    }

    [Fact]
    public void Everything_stored_comes_back_equal_and_ordered()
    {
        var batch = Invented.Batch();
        _store.Import(batch, Invented.Origin, null, TestContext.Current.CancellationToken);

        var reference = _store.Reference();
        Assert.Equal(batch.Watersheds, reference.Watersheds);
        Assert.Equal(batch.Shapes, reference.Shapes);
        Assert.Equal(batch.Wetlands, reference.Wetlands);
        Assert.Equal(batch.Stations, reference.Stations);
        Assert.Equal(batch.Species.OrderBy(s => s.Id), reference.Species);
        Assert.Equal(batch.Expected.OrderBy(e => e.Species), reference.Expected);

        var data = _store.Accepted();
        Assert.Equal(reference.Stations, data.Stations);
        Assert.Equal(["s-1", "s-2"], data.Surveys.Select(s => s.Id.ToString()));
        AssertSame(Invented.Loud, data.Surveys[0]);
        AssertSame(Invented.Silent, data.Surveys[1]);
    }

    [Fact]
    public void Size_counts_what_is_stored_and_the_years_from_the_first_survey_to_the_last()
    {
        Assert.Equal(new StoredSize(0, 0, 0, 0), _store.Size());
        var batch = Invented.Batch() with
        {
            Surveys =
            [
                Invented.Entry(Invented.Night("s-1", "00T1", new LocalDate(2009, 12, 31))),
                new SurveyEntry(Invented.Night("s-2", "00T1", new LocalDate(2021, 1, 1)), ReviewStatus.Held, "surveys.csv", 3),
            ],
        };
        _store.Import(batch, Invented.Origin, null, TestContext.Current.CancellationToken);
        Assert.Equal(new StoredSize(2, batch.Species.Count, batch.Wetlands.Count, 13), _store.Size());
    }

    [Fact]
    public void Only_accepted_surveys_are_analysed_and_every_one_is_found()
    {
        var held = Invented.Night("s-9", "00T1", new LocalDate(2021, 5, 1), ("wood", 2));
        _store.Import(
            Invented.Batch() with { Surveys = [Invented.Entry(Invented.Loud), new SurveyEntry(held, ReviewStatus.Held, "surveys.csv", 9)] },
            Invented.Origin,
            null,
            TestContext.Current.CancellationToken);
        Assert.Equal(["s-1"], _store.Accepted().Surveys.Select(s => s.Id.ToString()));
        var found = _store.Find([held.Id, Invented.Survey("nobody"), Invented.Loud.Id]);
        Assert.Equal([held.Id, Invented.Loud.Id], found.Keys.OrderByDescending(id => id));
        AssertSame(held, found[held.Id]);
        Assert.Empty(_store.Find([]));
    }

    [Fact]
    public void What_stood_at_an_earlier_moment_comes_back_after_later_imports()
    {
        var first = Invented.Origin.When;
        Instant At(int days) => first + Duration.FromDays(days);
        void Import(ImportBatch batch, int days) => _store.Import(batch, Invented.Origin with { When = At(days) }, null, TestContext.Current.CancellationToken);

        var batch = Invented.Batch();
        Import(batch, 0);
        var before = _store.Accepted();
        var longer = Invented.Loud with { Minutes = 7, StartTime = null, Calls = [] };
        var moved = batch.Stations[0] with { Place = GeoPoint.At(10, 10), Weight = 3 };
        Import(new ImportBatch { Surveys = [Invented.Entry(longer)], Stations = [moved], Expected = [batch.Expected[0] with { Window = null }] }, 1);
        var between = _store.Accepted();
        var added = Invented.Night("s-9", "00T1", new LocalDate(2021, 5, 1), ("wood", 2));
        Import(new ImportBatch { Surveys = [Invented.Entry(longer with { Minutes = 8 }), Invented.Entry(added)], Stations = [moved with { Weight = 4 }] }, 2);
        Import(new ImportBatch { Surveys = [Invented.Entry(added with { Minutes = 6 }), new SurveyEntry(Invented.Silent, ReviewStatus.Held, "surveys.csv", 3)] }, 3);
        var after = _store.Accepted();

        Same(before, _store.AcceptedAt(At(0)));
        Same(before, _store.AcceptedAt(At(1) - Duration.FromMilliseconds(1)));
        Same(between, _store.AcceptedAt(At(1)));
        Same(between, _store.AcceptedAt(At(1) + Duration.FromMilliseconds(1)));
        Same(after, _store.AcceptedAt(At(3)));
        Assert.Equal(["s-1", "s-2", "s-9"], _store.AcceptedAt(At(2)).Surveys.Select(survey => survey.Id.ToString()));
        Assert.Empty(_store.AcceptedAt(At(-1)).Surveys);

        static void Same(ProgrammeData expected, ProgrammeData actual)
        {
            Assert.Equal(expected.Stations, actual.Stations);
            Assert.Equal(expected.Expected, actual.Expected);
            Assert.Equal(expected.Surveys.Count, actual.Surveys.Count);
            for (int i = 0; i < expected.Surveys.Count; i++)
                AssertSame(expected.Surveys[i], actual.Surveys[i]);
        }
    }

    [Fact]
    public void Every_survey_keeps_who_when_folder_file_and_line()
    {
        _store.Import(Invented.Batch(), Invented.Origin, null, TestContext.Current.CancellationToken);
        var kept = _database.Read(c => c.QuerySingle<(string, string, string, string, long, string)>("""
            SELECT who, at, folder, file, line, review
            FROM survey
            JOIN import_log ON import_log.id = survey.import
            WHERE survey_id = 's-2'
            """));
        Assert.Equal(("A. Keeper", "2026-03-01T12:00:00Z", "spring", "surveys.csv", 3, "accepted"), kept);
    }

    [Fact]
    public void Replaced_survey_leaves_its_old_content_in_the_log()
    {
        _store.Import(Invented.Batch(), Invented.Origin, null, TestContext.Current.CancellationToken);
        var mended = Invented.Loud with { Minutes = 3, Calls = [new Call(Invented.Frog("wood"), CallLevel.Of(2).Value)] };
        _store.Import(
            new ImportBatch { Surveys = [Invented.Entry(mended, 7)] },
            Invented.Origin with { Who = "C. Mender" },
            null,
            TestContext.Current.CancellationToken);

        AssertSame(mended, _store.Find([mended.Id])[mended.Id]);
        Assert.Equal(2, _store.Accepted().Surveys.Count);
        var log = _database.Read(c => c.QuerySingle<(string, long, long, long, string, string)>("""
            SELECT survey_id, replaced_by, old_import, old_line, old_content ->> 'minutes', old_content ->> '$.calls.marsh'
            FROM survey_log
            """));
        Assert.Equal(("s-1", 2, 1, 2, "5", "3"), log);
        Assert.Equal((0, 1), _database.Read(c => c.QuerySingle<(int, int)>("SELECT surveys_new, surveys_replaced FROM import_log WHERE id = 2")));
    }

    [Fact]
    public void Replaced_reference_rows_leave_their_old_content_in_the_log()
    {
        _store.Import(Invented.Batch(), Invented.Origin, null, TestContext.Current.CancellationToken);
        _store.Import(
            Invented.Batch() with { Watersheds = [new Watershed(Invented.Code("99010101"), "Renamed")], Surveys = [] },
            Invented.Origin,
            null,
            TestContext.Current.CancellationToken);
        Assert.Equal("Renamed", _store.Reference().Watersheds[0].Name);
        var log = _database.Read(c => c.Query<(string, string)>("SELECT kind, key FROM reference_log ORDER BY id").AsList());
        Assert.Equal(
            [
                ("watershed", "99010101"), ("shape", "9901010101"), ("wetland", "W1"), ("wetland", "W2"), ("station", "00T1"),
                ("station", "00T2"), ("species", "wood"), ("species", "marsh"), ("expected", "9901 wood"), ("expected", "9901 marsh"),
            ],
            log);
        Assert.Equal(
            """{"name":"Invented Lakes"}""",
            _database.Read(c => c.ExecuteScalar<string>("SELECT old_content FROM reference_log WHERE kind = 'watershed'")));
    }

    [Fact]
    public void Cancelled_import_leaves_nothing()
    {
        using var cancel = new CancellationTokenSource();
        var many = Invented.Batch() with
        {
            Surveys = [.. Enumerable.Range(0, 3000).Select(i =>
                Invented.Entry(Invented.Night($"n-{i:0000}", "00T1", new LocalDate(2020, 4, 1).PlusDays(i), ("wood", 1))))],
        };
        int heard = 0;
        var progress = new Told(done =>
        {
            heard = done;
            if (done >= 1000)
                cancel.Cancel();
        });
        Assert.Throws<OperationCanceledException>(() => _store.Import(many, Invented.Origin, progress, cancel.Token));
        Assert.Equal(1000, heard);
        Assert.Equal(0, _database.Read(c => c.ExecuteScalar<long>(
            "SELECT (SELECT count(*) FROM import_log) + (SELECT count(*) FROM station) + (SELECT count(*) FROM survey) + (SELECT count(*) FROM call)")));
        _store.Import(many, Invented.Origin, null, TestContext.Current.CancellationToken);
        Assert.Equal(3000, _store.Accepted().Surveys.Count);
    }

    [Fact]
    public void Settings_are_the_last_ones_given_and_none_before()
    {
        Assert.Null(_store.Settings());
        var settings = new ProgrammeSettings
        {
            Name = "Invented listeners",
            Baseline = new BaselineOptions { Seasons = [2012, 2014] },
            Protocol = Protocol.Default with
            {
                Runs = [new ProtocolRun("early", new AnnualDate(4, 8), new AnnualDate(4, 30), new ProtocolLimit<double>(8, "An invented sheet"))],
                MaximumWindBeaufort = new ProtocolLimit<int>(3, "An invented sheet"),
            },
        };
        _store.Import(new ImportBatch { Settings = new ProgrammeSettings() }, Invented.Origin, null, TestContext.Current.CancellationToken);
        _store.Import(new ImportBatch { Settings = settings }, Invented.Origin, null, TestContext.Current.CancellationToken);
        var read = _store.Settings()!;
        Assert.Equal(SettingsText.Write(settings), SettingsText.Write(read));
        Assert.Equal([2012, 2014], read.Baseline.Seasons!);
        Assert.Equal(settings.Protocol.Runs, read.Protocol.Runs);
        Assert.Equal(settings.Protocol.LatestStart, read.Protocol.LatestStart);
        Assert.Equal(settings.Protocol.MaximumWindBeaufort, read.Protocol.MaximumWindBeaufort);
    }

    [Theory]
    [InlineData("INSERT INTO call (survey, species, level) VALUES (1, 1, 7)")]
    [InlineData("UPDATE survey SET review = 'maybe'")]
    [InlineData("UPDATE survey SET station = 999")]
    [InlineData("UPDATE survey SET wind_beaufort = 13")]
    [InlineData("INSERT INTO watershed (code, name) VALUES ('123', 'odd')")]
    [InlineData("UPDATE station SET latitude = 91")]
    [InlineData("DELETE FROM species")]
    public void Tables_refuse_what_must_not_be(string sql)
    {
        _store.Import(Invented.Batch(), Invented.Origin, null, TestContext.Current.CancellationToken);
        // 19 is SQLITE_CONSTRAINT.
        var failure = Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => _database.Write(c => c.Execute(sql)));
        Assert.Equal(19, failure.SqliteErrorCode);
    }

    private static void AssertSame(Survey expected, Survey actual)
    {
        Assert.Equal(expected.Calls, actual.Calls);
        Assert.Equal(expected with { Calls = actual.Calls }, actual);
    }

    public void Dispose()
    {
        _database.Dispose();
        _folder.Dispose();
    }

    private sealed class Told(Action<int> then) : IProgress<int>
    {
        public void Report(int value) => then(value);
    }
}
