using Indicators.Monitoring;

namespace Indicators.Storage;

/// <summary>
/// The database failed under way: locked, full, damaged, or gone. Nothing of the interrupted transaction was kept.
/// </summary>
/// <remarks>Opening reports problems as results; this is for what happens after a database was opened well.</remarks>
public sealed class StorageException : Exception
{
    /// <summary>A failure with its typed reason and what the database said.</summary>
    public StorageException(StorageProblem problem, Exception? inner = null)
        : base($"{problem.Kind}: {problem.Path}", inner) => Problem = problem;

    /// <summary>What went wrong.</summary>
    public StorageProblem Problem { get; }
}
