using System.Diagnostics.CodeAnalysis;
using Indicators.Monitoring;

namespace Indicators.Storage;

/// <summary>What <see cref="Storage.Database.Open(string, DatabaseAccess)"/> opens a file for.</summary>
public enum DatabaseAccess
{
    /// <summary>Reading only: nothing is created, upgraded or written.</summary>
    Read,

    /// <summary>Reading and writing a file that is there; an older one is brought up to date.</summary>
    Write,

    /// <summary>The same, and the file is made when it is not there.</summary>
    CreateOrWrite,
}

/// <summary>Either an open database or the reason why there is none.</summary>
public sealed record Opened
{
    private Opened(Database? database, StorageProblem? problem)
    {
        Database = database;
        Problem = problem;
    }

    /// <summary>The database, or null.</summary>
    public Database? Database { get; }

    /// <summary>Why there is none, or null.</summary>
    public StorageProblem? Problem { get; }

    /// <summary>Whether there is a database.</summary>
    [MemberNotNullWhen(true, nameof(Database))]
    [MemberNotNullWhen(false, nameof(Problem))]
    public bool Succeeded => Database is not null;

    internal static Opened Of(Database database) => new(database, null);

    internal static Opened Of(StorageProblem problem) => new(null, problem);
}
