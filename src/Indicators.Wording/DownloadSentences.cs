using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>Files of one area or one species.</summary>
public static class DownloadSentences
{
    /// <summary>The heading over files of one area or species.</summary>
    public static string Only(string name) => Say("download.only", ("name", name));

    /// <summary>What a file holds, by the name of its export.</summary>
    public static string What(string export) => Say($"download.{export}");

    /// <summary>A link's full name.</summary>
    public static string Csv(string what, string name) => Say("download.csv", ("what", what), ("name", name));
}
