using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The small words of pages: links, labels for those who do not see the page, and what stands beside them.</summary>
public static class PageWords
{
    /// <summary>The first link of a page.</summary>
    public static string Skip => Say("page.skip");

    /// <summary>The site's own links.</summary>
    public static string MainNavigation => Say("page.mainNavigation");

    /// <summary>The links to other languages.</summary>
    public static string Languages => Say("page.languages");

    /// <summary>The way out of a page that leads nowhere.</summary>
    public static string GoHome => Say("page.goHome");

    /// <summary>The way to an area's own page.</summary>
    public static string SeeAllOf(string area) => Say("page.seeAllOf", ("area", area));

    /// <summary>The key of the map.</summary>
    public static string PointsByColour => Say("page.pointsByColour");

    /// <summary>The map.</summary>
    public static string Map => Say("page.map");

    /// <summary>One area of the map.</summary>
    public static string MapArea(int n, string name, string condition) => Say("page.mapArea", ("n", n), ("name", name), ("condition", condition));

    /// <summary>A watershed by its code.</summary>
    public static string WatershedCode(string code) => Say("page.watershedCode", ("code", code));

    /// <summary>A watershed without a name, inside a sentence.</summary>
    public static string Unnamed(string code) => Say("page.unnamed", ("code", code));

    /// <summary>What stands before the larger areas around one.</summary>
    public static string Within => Say("page.within");

    /// <summary>What stands before the smaller areas in one.</summary>
    public static string Holds => Say("page.holds");

    /// <summary>All species as one, inside a sentence.</summary>
    public static string TogetherInSentence => Say("page.togetherInSentence");

    /// <summary>What a file to take away holds.</summary>
    public static string FilesHold => Say("page.filesHold");

    /// <summary>Between two links.</summary>
    public static string Or => Say("page.or");

    /// <summary>How the points of a score add up.</summary>
    public static string ScoreSum(string lost, string score) => Say("page.scoreSum", ("lost", lost), ("score", score));

    /// <summary>Said above a text that is in one language only; empty where it is the reader's.</summary>
    public static string MethodsLanguage => Say("page.methodsLanguage");
}
