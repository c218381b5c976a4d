using System.Globalization;
using Dapper;
using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage;

/// <summary>
/// One programme's database: a SQLite file with write-ahead log, foreign keys enforced and every commit flushed to disk
/// before it counts. Safe for use by several threads; each operation takes its own connection.
/// </summary>
public sealed class Database : IDisposable
{
    /// <summary>Marks a SQLite file as ours, in the header field SQLite keeps for that (the letters IND and a 1).</summary>
    internal const long ApplicationId = 1229866817;

    /// <summary>How long an operation waits for another writer, in seconds.</summary>
    private const int BusySeconds = 10;

    private static long _inMemory;

    private readonly string _connectionString;
    private readonly bool _readOnly;
    private readonly SqliteConnection? _held;

    private Database(string path, DatabaseAccess access, int waitSeconds)
    {
        Path = path;
        _readOnly = access == DatabaseAccess.Read;
        _connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = System.IO.Path.GetFullPath(path),
            // Reading opens read-write too, without creating: a read-only connection to a write-ahead log would leave
            // its side files lying about. The pragma query_only keeps readers from writing.
            Mode = access == DatabaseAccess.CreateOrWrite ? SqliteOpenMode.ReadWriteCreate : SqliteOpenMode.ReadWrite,
            ForeignKeys = true,
            DefaultTimeout = waitSeconds,
            Pooling = true,
        }.ToString();
    }

    private Database(string name)
    {
        Path = name;
        _connectionString = new SqliteConnectionStringBuilder { DataSource = name, Mode = SqliteOpenMode.Memory, Cache = SqliteCacheMode.Shared, ForeignKeys = true }.ToString();
        // Such a database is gone with its last connection.
        _held = Connect();
        Migrations.Upgrade(_connectionString);
    }

    /// <summary>A new database without a file, gone when it is disposed. For one thread at a time.</summary>
    public static Database InMemory() => new(string.Create(CultureInfo.InvariantCulture, $"memory-{Interlocked.Increment(ref _inMemory)}"));

    /// <summary>The file's path as it was given.</summary>
    public string Path { get; }

    /// <summary>Opens a file, brings it up to date when it is opened for writing, and says why when it cannot be used.</summary>
    /// <param name="path">The file.</param>
    /// <param name="access">What for.</param>
    public static Opened Open(string path, DatabaseAccess access) => Open(path, access, BusySeconds);

    internal static Opened Open(string path, DatabaseAccess access, int waitSeconds)
    {
        if (Directory.Exists(path))
            return Refuse(StorageProblemKind.IsFolder);
        if (!Directory.Exists(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(path))))
            return Refuse(StorageProblemKind.MissingFolder);
        if (access != DatabaseAccess.CreateOrWrite && !File.Exists(path))
            return Refuse(StorageProblemKind.MissingFile);

        var database = new Database(path, access, waitSeconds);
        var problem = database.Prepare(access);
        if (problem is null)
            return Opened.Of(database);
        database.Dispose();
        return Opened.Of(problem);

        Opened Refuse(StorageProblemKind kind) => Opened.Of(new StorageProblem(kind, path));
    }

    private StorageProblem? Prepare(DatabaseAccess access)
    {
        try
        {
            long version;
            using (var connection = Connect())
            {
                version = connection.ExecuteScalar<long>("PRAGMA user_version");
                long application = connection.ExecuteScalar<long>("PRAGMA application_id");
                long objects = connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema");
                bool empty = application == 0 && version == 0 && objects == 0;
                if (application != ApplicationId && !(empty && access != DatabaseAccess.Read))
                    return new StorageProblem(StorageProblemKind.NotOurs, Path);
                if (version > Migrations.Latest)
                    return Versions(StorageProblemKind.NewerVersion, version);
                if (access == DatabaseAccess.Read)
                    return version < Migrations.Latest ? Versions(StorageProblemKind.OlderVersion, version) : null;
                // The log mode is a property of the file and cannot change inside a transaction.
                connection.Execute("PRAGMA journal_mode = WAL");
                // Finds out now, not halfway, whether the file can be written.
                connection.Execute("BEGIN IMMEDIATE; ROLLBACK;");
            }
            if (version < Migrations.Latest)
                Migrations.Upgrade(_connectionString);
            return null;
        }
        catch (SqliteException failure) when (SqliteFailures.Kind(failure) is { } kind)
        {
            return new StorageProblem(kind, Path);
        }
    }

    private StorageProblem Versions(StorageProblemKind kind, long found) =>
        new(kind, Path) { Found = found, Supported = Migrations.Latest };

    /// <summary>Runs a reading operation on one consistent snapshot.</summary>
    internal T Read<T>(Func<SqliteConnection, T> operation) => OnConnection(connection =>
    {
        using var transaction = connection.BeginTransaction(deferred: true);
        return operation(connection);
    });

    /// <summary>Runs a writing operation in one transaction: all of it, or, when it throws, nothing.</summary>
    internal T Write<T>(Func<SqliteConnection, T> operation) => OnConnection(connection =>
    {
        using var transaction = connection.BeginTransaction();
        var result = operation(connection);
        transaction.Commit();
        return result;
    });

    /// <inheritdoc cref="Write{T}"/>
    internal void Write(Action<SqliteConnection> operation) => Write(connection =>
    {
        operation(connection);
        return true;
    });

    /// <summary>Reads one consistent snapshot row by row, for as long as the caller goes on asking.</summary>
    internal IEnumerable<T> Stream<T>(Func<SqliteConnection, IEnumerable<T>> operation)
    {
        using var connection = Guarded(Connect);
        using var transaction = connection.BeginTransaction(deferred: true);
        using var rows = Guarded(() => operation(connection)).GetEnumerator();
        while (Guarded(rows.MoveNext))
            yield return rows.Current;
    }

    private T OnConnection<T>(Func<SqliteConnection, T> operation) => Guarded(() =>
    {
        using var connection = Connect();
        return operation(connection);
    });

    private T Guarded<T>(Func<T> operation)
    {
        try
        {
            return operation();
        }
        catch (SqliteException failure) when (SqliteFailures.Kind(failure) is { } kind)
        {
            throw new StorageException(new StorageProblem(kind, Path), failure);
        }
    }

    private SqliteConnection Connect()
    {
        var connection = new SqliteConnection(_connectionString);
        try
        {
            connection.Open();
            // FULL: what people typed survives a power cut once the import said it is stored.
            connection.Execute(_readOnly ? "PRAGMA query_only = ON" : "PRAGMA synchronous = FULL");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Lets go of the file.</summary>
    public void Dispose()
    {
        _held?.Dispose();
        using var connection = new SqliteConnection(_connectionString);
        SqliteConnection.ClearPool(connection);
    }
}
