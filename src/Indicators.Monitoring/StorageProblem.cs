namespace Indicators.Monitoring;

/// <summary>Why a database, or an edition in it, cannot be used.</summary>
public enum StorageProblemKind
{
    /// <summary>There is no file of this name.</summary>
    MissingFile,

    /// <summary>The folder the file should lie in does not exist.</summary>
    MissingFolder,

    /// <summary>The path is a folder, not a file.</summary>
    IsFolder,

    /// <summary>The file is not a database at all.</summary>
    NotADatabase,

    /// <summary>The file is a database of something else, or an empty one opened for reading.</summary>
    NotOurs,

    /// <summary>The file is a database whose content is damaged.</summary>
    Damaged,

    /// <summary>The file was written by a newer version of this program.</summary>
    NewerVersion,

    /// <summary>The file was written by an older version and has not been brought up to date; it was opened for reading only.</summary>
    OlderVersion,

    /// <summary>The file or its folder does not allow writing.</summary>
    ReadOnly,

    /// <summary>Something else keeps the file to itself.</summary>
    Locked,

    /// <summary>There is no room left on the disk.</summary>
    DiskFull,

    /// <summary>The file cannot be opened, read or written for another reason.</summary>
    Unreadable,

    /// <summary>An edition in the file has a newer layout than this program reads.</summary>
    NewerEdition,
}

/// <summary>One reason why a database cannot be used, as a typed fact; the sentences live in Wording.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Path">The file's path as it was given.</param>
public sealed record StorageProblem(StorageProblemKind Kind, string Path)
{
    /// <summary>The version found, where versions are the problem.</summary>
    public long? Found { get; init; }

    /// <summary>The newest version this program reads, where versions are the problem.</summary>
    public long? Supported { get; init; }

    /// <summary>The edition's number, where one edition is the problem.</summary>
    public long? Edition { get; init; }
}
