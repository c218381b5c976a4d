using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Indicators.Storage.Tests;

public sealed class DatabaseTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    [Fact]
    public void New_file_is_made_in_one_go_at_the_latest_version()
    {
        using var database = Open(DatabaseAccess.CreateOrWrite);
        Assert.Equal(Migrations.Latest, database.Read(c => c.ExecuteScalar<long>("PRAGMA user_version")));
        Assert.Equal(Migrations.Latest, database.Read(c => c.ExecuteScalar<long>("SELECT count(*) FROM schema_migration")));
        Assert.Equal("wal", database.Read(c => c.ExecuteScalar<string>("PRAGMA journal_mode")));
    }

    [Fact]
    public void Every_table_but_the_journal_is_strict()
    {
        using var database = Open(DatabaseAccess.CreateOrWrite);
        var loose = database.Read(c => c.Query<string>(
            "SELECT name FROM pragma_table_list WHERE type = 'table' AND strict = 0 AND schema = 'main' AND name NOT LIKE 'sqlite_%'").AsList());
        Assert.Equal(["schema_migration"], loose);
    }

    [Fact]
    public void Writing_connection_enforces_keys_and_flushes_every_commit()
    {
        using var database = Open(DatabaseAccess.CreateOrWrite);
        // SQLite numbers synchronous=FULL 2: https://www.sqlite.org/pragma.html#pragma_synchronous
        Assert.Equal((1L, 2L), database.Write(c => (c.ExecuteScalar<long>("PRAGMA foreign_keys"), c.ExecuteScalar<long>("PRAGMA synchronous"))));
    }

    [Fact]
    public void Reopening_runs_no_migration_again_and_keeps_the_content()
    {
        using (var database = Open(DatabaseAccess.CreateOrWrite))
            database.Write(c => c.Execute("INSERT INTO watershed (code, name) VALUES ('9901', 'Kept')"));
        using var again = Open(DatabaseAccess.Write);
        Assert.Equal("Kept", again.Read(c => c.ExecuteScalar<string>("SELECT name FROM watershed")));
        Assert.Equal(Migrations.Latest, again.Read(c => c.ExecuteScalar<long>("SELECT count(*) FROM schema_migration")));
    }

    [Fact]
    public void Older_file_is_refused_for_reading_and_brought_up_to_date_for_writing()
    {
        Migrations.Upgrade($"Data Source={_folder.Database};Pooling=False", 1);
        var problem = Database.Open(_folder.Database, DatabaseAccess.Read).Problem;
        Assert.Equal((StorageProblemKind.OlderVersion, 1, Migrations.Latest), (problem!.Kind, problem.Found, problem.Supported));
        Open(DatabaseAccess.Write).Dispose();
        using var database = Open(DatabaseAccess.Read);
        Assert.Equal(Migrations.Latest, database.Read(c => c.ExecuteScalar<long>("PRAGMA user_version")));
    }

    [Fact]
    public void Group_indices_of_an_older_file_stay_as_those_of_all_species()
    {
        OlderFile(3, """
            INSERT INTO edition_group (edition, area, season, index_value, lower, upper, species)
            VALUES (1, '9901', 2013, 99.5, 88.25, NULL, 6);
            """);
        using var database = Open(DatabaseAccess.Write);
        var row = database.Read(c => c.QuerySingle<(string, string, long, double, double, double?, long)>(
            "SELECT area, species_group, season, index_value, lower, upper, species FROM edition_group WHERE edition = 1"));
        Assert.Equal(("9901", "all", 2013, 99.5, 88.25, null, 6), row);
        database.Write(c => c.Execute("DELETE FROM edition"));
        Assert.Equal(0, database.Read(c => c.ExecuteScalar<long>("SELECT count(*) FROM edition_group")));
    }

    [Fact]
    public void Older_editions_lose_the_counts_that_tell_where_a_protected_species_is_and_nothing_else()
    {
        OlderFile(8, """
            INSERT INTO edition_species (edition, species_id, scientific_name, common_name, window_start, window_end, sensitivity, protected)
            VALUES (1, 'marsh', 'Rana a', 'marsh frog', '04-01', '06-01', 5, 0), (1, 'rare', 'Rana b', 'rare frog', '04-01', '06-01', 9, 1);
            INSERT INTO edition_index (edition, area, species_id, season, status, index_value, in_baseline, mean_call_level, stations, surveys)
            VALUES (1, '9901', 'marsh', 2013, 'estimated', 99.5, 1, 1.25, 4, 11), (1, '9901', 'rare', 2013, 'estimated', 88.5, 1, 1.5, 3, 7);
            """);
        using var database = Open(DatabaseAccess.Write);
        var rows = database.Read(c => c.Query<(string, double, double?, long?, long?)>(
            "SELECT species_id, index_value, mean_call_level, stations, surveys FROM edition_index ORDER BY species_id").ToArray());
        Assert.Equal([("marsh", 99.5, 1.25, 4, 11), ("rare", 88.5, null, null, null)], rows);
    }

    [Theory]
    [InlineData(DatabaseAccess.Read)]
    [InlineData(DatabaseAccess.Write)]
    [InlineData(DatabaseAccess.CreateOrWrite)]
    public void File_of_a_newer_version_is_refused_and_left_alone(DatabaseAccess access)
    {
        using (var database = Open(DatabaseAccess.CreateOrWrite))
            database.Write(c => c.Execute("PRAGMA user_version = 4000"));
        byte[] before = File.ReadAllBytes(_folder.Database);
        var problem = Database.Open(_folder.Database, access).Problem;
        Assert.Equal((StorageProblemKind.NewerVersion, 4000, Migrations.Latest), (problem!.Kind, problem.Found, problem.Supported));
        Assert.Equal(before, File.ReadAllBytes(_folder.Database));
    }

    [Theory]
    [InlineData(DatabaseAccess.Read)]
    [InlineData(DatabaseAccess.CreateOrWrite)]
    public void File_that_is_no_database_is_refused_and_left_alone(DatabaseAccess access)
    {
        string text = string.Concat(Enumerable.Repeat("survey_id,station_id,date\n", 200));
        File.WriteAllText(_folder.Database, text);
        Assert.Equal(StorageProblemKind.NotADatabase, Database.Open(_folder.Database, access).Problem!.Kind);
        Assert.Equal(text, File.ReadAllText(_folder.Database));
    }

    [Fact]
    public void Database_of_something_else_is_refused()
    {
        using (var other = new SqliteConnection($"Data Source={_folder.Database};Pooling=False"))
        {
            other.Open();
            other.Execute("CREATE TABLE recipe (name TEXT)");
        }
        Assert.Equal(StorageProblemKind.NotOurs, Database.Open(_folder.Database, DatabaseAccess.CreateOrWrite).Problem!.Kind);
        Assert.Equal(StorageProblemKind.NotOurs, Database.Open(_folder.Database, DatabaseAccess.Read).Problem!.Kind);
    }

    [Fact]
    public void Damaged_pages_are_a_typed_problem_not_a_crash()
    {
        using (var database = Open(DatabaseAccess.CreateOrWrite))
            database.Write(c => c.Execute("INSERT INTO watershed (code, name) VALUES ('9901', 'Gone')"));
        byte[] bytes = File.ReadAllBytes(_folder.Database);
        // The header stays, every page after it is nonsense.
        Array.Fill(bytes, (byte)0x5A, 100, bytes.Length - 100);
        File.WriteAllBytes(_folder.Database, bytes);
        Assert.Equal(StorageProblemKind.Damaged, Database.Open(_folder.Database, DatabaseAccess.Write).Problem!.Kind);
        Assert.Equal(StorageProblemKind.Damaged, Database.Open(_folder.Database, DatabaseAccess.Read).Problem!.Kind);
    }

    [Fact]
    public void Half_a_file_is_a_typed_problem()
    {
        using (var database = Open(DatabaseAccess.CreateOrWrite))
            database.Write(c => c.Execute("INSERT INTO watershed (code, name) VALUES ('9901', 'Gone')"));
        using (var file = File.Open(_folder.Database, FileMode.Open))
            file.SetLength(file.Length / 2);
        Assert.Equal(StorageProblemKind.Damaged, Database.Open(_folder.Database, DatabaseAccess.Write).Problem!.Kind);
    }

    [Fact]
    public void Missing_things_are_named()
    {
        Assert.Equal(StorageProblemKind.MissingFile, Database.Open(_folder.Database, DatabaseAccess.Read).Problem!.Kind);
        Assert.Equal(StorageProblemKind.MissingFile, Database.Open(_folder.Database, DatabaseAccess.Write).Problem!.Kind);
        Assert.Equal(StorageProblemKind.MissingFolder, Database.Open(_folder.File("no/such.db"), DatabaseAccess.CreateOrWrite).Problem!.Kind);
        Assert.Equal(StorageProblemKind.IsFolder, Database.Open(_folder.File("."), DatabaseAccess.CreateOrWrite).Problem!.Kind);
        Assert.False(File.Exists(_folder.Database));
    }

    [Fact]
    public void Reading_leaves_no_file_behind_and_cannot_write()
    {
        Open(DatabaseAccess.CreateOrWrite).Dispose();
        using (var database = Open(DatabaseAccess.Read))
        {
            var failure = Assert.Throws<StorageException>(() => database.Write(c => c.Execute("DELETE FROM watershed")));
            Assert.Equal(StorageProblemKind.ReadOnly, failure.Problem.Kind);
        }
        Assert.Equal([_folder.Database], Directory.GetFiles(Path.GetDirectoryName(_folder.Database)!));
    }

    [Fact]
    public void File_held_by_another_writer_is_locked()
    {
        Open(DatabaseAccess.CreateOrWrite).Dispose();
        using var other = new SqliteConnection($"Data Source={_folder.Database};Pooling=False");
        other.Open();
        other.Execute("BEGIN IMMEDIATE");
        Assert.Equal(StorageProblemKind.Locked, Database.Open(_folder.Database, DatabaseAccess.Write, waitSeconds: 1).Problem!.Kind);
        other.Execute("ROLLBACK");
    }

    [Fact]
    public void Full_disk_is_a_typed_failure_that_keeps_nothing()
    {
        using var database = Open(DatabaseAccess.CreateOrWrite);
        // SQLite answers a file that may not grow as it answers a full disk: SQLITE_FULL.
        var failure = Assert.Throws<StorageException>(() => database.Write(c =>
        {
            c.Execute("PRAGMA max_page_count = 1");
            using var insert = new BulkCommand(c, "INSERT INTO watershed (code, name) VALUES (?1, ?2)");
            for (int i = 0; i < 10_000; i++)
                insert.Text(1, FormattableString.Invariant($"99{i:000000}")).Text(2, new string('x', 100)).Run();
        }));
        Assert.Equal(StorageProblemKind.DiskFull, failure.Problem.Kind);
        Assert.Equal(0, database.Read(c => c.ExecuteScalar<long>("SELECT count(*) FROM watershed")));
    }

    private Database Open(DatabaseAccess access) => Database.Open(_folder.Database, access).Database!;

    public void Dispose() => _folder.Dispose();

    /// <summary>A file of an older version with one draft edition, number 1.</summary>
    private void OlderFile(long version, string rows)
    {
        Migrations.Upgrade($"Data Source={_folder.Database};Pooling=False", version);
        using var old = new SqliteConnection($"Data Source={_folder.Database};Pooling=False");
        old.Open();
        old.Execute("""
            INSERT INTO edition (state, run_key, created_at, schema_version, inputs_sha256, settings, seed, resamples, engine_version, runtime, processor)
            VALUES ('draft', 'key', '2026-05-01T08:00:00Z', 2, 'a', '{}', '1', 500, '0.1.0', '.NET 10', 'x64');
            """);
        old.Execute(rows);
    }
}
