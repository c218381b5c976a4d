using Indicators.Monitoring;

namespace Indicators.Application.Import;

/// <summary>How an import or a check came out.</summary>
public enum ImportOutcome
{
    /// <summary>Nothing was refused.</summary>
    NothingRefused,

    /// <summary>Something was refused; whether the rest was loaded is <see cref="ImportReport.IsLoaded"/>.</summary>
    SomethingRefused,

    /// <summary>It could not be done at all; nothing was loaded.</summary>
    Failed,
}

/// <summary>What became of the rows of one file. Read = stored + unchanged + refused + not loaded.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Read">Rows read; 0 when it could not be told where rows end.</param>
/// <param name="Stored">Rows stored, replacing or new.</param>
/// <param name="Replaced">How many of the stored ones replaced other content.</param>
/// <param name="Unchanged">Rows that say what is stored already.</param>
/// <param name="Refused">Rows refused.</param>
/// <param name="NotLoaded">Good rows that were not loaded, because others were refused or because this was only a check.</param>
public sealed record FileCounts(string File, int Read, int Stored, int Replaced, int Unchanged, int Refused, int NotLoaded);

/// <summary>What an import or a check found and did.</summary>
public sealed record ImportReport
{
    /// <summary>How it came out.</summary>
    public required ImportOutcome Outcome { get; init; }

    /// <summary>Whether what could be taken is now in the database. False for a check.</summary>
    public bool IsLoaded { get; init; }

    /// <summary>What became of each file's rows, in the order of reading; files that are missing are left out.</summary>
    public IReadOnlyList<FileCounts> Files { get; init; } = [];

    /// <summary>Everything that is wrong or worth saying, by file and line.</summary>
    public IReadOnlyList<Problem> Problems { get; init; } = [];

    /// <summary>The folder the refused rows were written to; null when there were none, or this was a check.</summary>
    public string? Rejects { get; init; }
}
