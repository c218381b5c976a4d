using Indicators.Analysis.Options;

namespace Indicators.Application.Import;

/// <summary>What somebody wants to have imported, and how.</summary>
public sealed record ImportRequest
{
    /// <summary>The path of the folder to read.</summary>
    public required string Folder { get; init; }

    /// <summary>Who brings it; kept with every survey.</summary>
    public required string Who { get; init; }

    /// <summary>The path of the folder for refused rows, or null for the one beside <see cref="Folder"/>.</summary>
    public string? Rejects { get; init; }

    /// <summary>Whether everything complete is loaded when something is refused. Default: then nothing is loaded.</summary>
    public bool Partial { get; init; }

    /// <summary>Whether other content stored under the same identifiers is replaced. Default: then it is a conflict, and refused.</summary>
    public bool Replace { get; init; }

    /// <summary>The programme's settings when some were given, to be stored too; null: the stored ones, or the defaults.</summary>
    public ProgrammeSettings? Settings { get; init; }
}

/// <summary>What an import is busy with.</summary>
public enum ImportStage
{
    /// <summary>Reading files; counted in bytes.</summary>
    Reading,

    /// <summary>Comparing rows with each other and with what is stored; counted in surveys.</summary>
    Checking,

    /// <summary>Writing to the database; counted in surveys.</summary>
    Storing,
}

/// <summary>How far an import is.</summary>
/// <param name="Stage">What it is busy with.</param>
/// <param name="Done">How much of that is done, in the stage's own unit.</param>
/// <param name="Total">How much there is to do.</param>
public readonly record struct ImportProgress(ImportStage Stage, long Done, long Total);
