using Indicators.Monitoring;
using Microsoft.Data.Sqlite;

namespace Indicators.Storage;

/// <summary>What SQLite's result codes mean to a user (https://www.sqlite.org/rescode.html).</summary>
internal static class SqliteFailures
{
    private const int Busy = 5, LockedTable = 6, ReadOnly = 8, InputOutput = 10, Corrupt = 11, Full = 13, CannotOpen = 14, NotADatabase = 26;

    /// <summary>The kind of problem behind a result code, or null when the code can only mean a bug.</summary>
    internal static StorageProblemKind? Kind(SqliteException failure) => failure.SqliteErrorCode switch
    {
        Busy or LockedTable => StorageProblemKind.Locked,
        ReadOnly => StorageProblemKind.ReadOnly,
        Corrupt => StorageProblemKind.Damaged,
        Full => StorageProblemKind.DiskFull,
        InputOutput or CannotOpen => StorageProblemKind.Unreadable,
        NotADatabase => StorageProblemKind.NotADatabase,
        _ => null,
    };
}
