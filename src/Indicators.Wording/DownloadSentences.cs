using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>Files to take away.</summary>
public static class DownloadSentences
{
    /// <summary>The heading over files of one area or species.</summary>
    public static string Only(string name) => Say("download.only", ("name", name));

    /// <summary>What a file holds, by the name of its export.</summary>
    public static string What(string export) => Say($"download.{export}");

    /// <summary>A link's full name.</summary>
    /// <param name="what">What the file holds.</param>
    /// <param name="format">Its format: <c>CSV</c>.</param>
    /// <param name="name">To what it is narrowed; null for a file of the whole edition.</param>
    public static string As(string what, string format, string? name) => name is null
        ? Say("download.as", ("what", what), ("format", format))
        : Say("download.asOnly", ("what", what), ("format", format), ("name", name));
}
