using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What was heard in one season in an area.</summary>
public static class ChorusSentences
{
    /// <summary>The heading.</summary>
    public static string Heading(int season) => Say("chorus.heading", ("season", Phrases.Season(season)));

    /// <summary>How much listening there was; that there was none when it is null.</summary>
    public static string Listening(int season, SeasonEffort? effort) => effort is null
        ? Say("chorus.none", ("season", Phrases.Season(season)))
        : Say("chorus.listening", ("season", Phrases.Season(season)), ("surveys", effort.Surveys), ("wetlands", effort.Wetlands));

    /// <summary>How many of the species listened for were heard.</summary>
    public static string Heard(int heard, int listened) => Say("chorus.heard", ("heard", heard), ("listened", listened));

    /// <summary>What the bars show, for those who do not see them.</summary>
    public static string Picture(int season, string first) => Say("chorus.picture", ("season", Phrases.Season(season)), ("first", first));

    /// <summary>What the table holds.</summary>
    public static string Caption(int season) => Say("chorus.caption", ("season", Phrases.Season(season)));

    /// <summary>A column.</summary>
    public static string WetlandsHeard => Say("chorus.wetlandsHeard");

    /// <summary>A column.</summary>
    public static string Share => Say("chorus.share");

    /// <summary>A column.</summary>
    public static string MeanLevel => Say("chorus.meanLevel");

    /// <summary>A column.</summary>
    public static string Surveys => Say("chorus.surveys");

    /// <summary>So many of so many wetlands.</summary>
    public static string OfWetlands(int heard, int wetlands) => Say("chorus.ofWetlands", ("heard", heard), ("wetlands", wetlands));

    /// <summary>What stands for a number that a protected species keeps back.</summary>
    public static string KeptBack => Say("chorus.keptBack");

    /// <summary>A count, or that it is kept back.</summary>
    public static string Count(int? number) => number is { } told ? Phrases.Count(told) : KeptBack;
}
