using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>The headings of tables, short.</summary>
public static class Columns
{
    /// <summary>A survey year.</summary>
    public static string Season => Say("column.season");

    /// <summary>A span of survey years.</summary>
    public static string Seasons => Say("column.seasons");

    /// <summary>An area by name.</summary>
    public static string Watershed => Say("column.watershed");

    /// <summary>A watershed code.</summary>
    public static string Code => Say("column.code");

    /// <summary>A species by name, or how many.</summary>
    public static string Species => Say("column.species");

    /// <summary>How many species, as against <see cref="Species"/>, which names one a row.</summary>
    public static string SpeciesCount => Say("column.speciesCount");

    /// <summary>The class of a score.</summary>
    public static string Condition => Say("column.condition");

    /// <summary>A score with its range.</summary>
    public static string Points => Say("column.points");

    /// <summary>How many wetlands.</summary>
    public static string Wetlands => Say("column.wetlands");

    /// <summary>How many stations.</summary>
    public static string Stations => Say("column.stations");

    /// <summary>How many surveys.</summary>
    public static string Surveys => Say("column.surveys");

    /// <summary>How many of the species to expect were heard.</summary>
    public static string HeardOfExpected => Say("column.heardOfExpected");

    /// <summary>An index with its range.</summary>
    public static string Index => Say("column.index");

    /// <summary>The mean call level, 0 to 3.</summary>
    public static string MeanCallLevel => Say("column.meanCallLevel");

    /// <summary>A direction in words.</summary>
    public static string Direction => Say("column.direction");

    /// <summary>A trend with its range.</summary>
    public static string ChangeEachSeason => Say("column.changeEachSeason");

    /// <summary>The sum of a row or a column.</summary>
    public static string Together => Say("column.together");

    /// <summary>A change since another season.</summary>
    public static string ChangeSince(int season) => Say("column.changeSince", ("season", Phrases.Season(season)));

    /// <summary>That a cell has no value.</summary>
    public static string None => Say("column.none");

    /// <summary>So many of so many.</summary>
    public static string Of(int n, int all) => Say("column.of", ("n", n), ("all", all));

    /// <summary>A row for whatever has none of its own.</summary>
    public static string AllOthers => Say("column.allOthers");
}
