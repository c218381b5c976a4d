using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>Titles and headings of pages and their parts.</summary>
public static class Headings
{
    /// <summary>The name of a programme that has given none.</summary>
    public static string Programme => Say("heading.programme");

    /// <summary>All watersheds.</summary>
    public static string Watersheds => Say("heading.watersheds");

    /// <summary>All species.</summary>
    public static string SpeciesList => Say("heading.speciesList");

    /// <summary>How results are made.</summary>
    public static string Methods => Say("heading.methods");

    /// <summary>The cautions.</summary>
    public static string GoingOutSafely => Say("heading.goingOutSafely");

    /// <summary>Before anything is published.</summary>
    public static string NothingPublished => Say("heading.nothingPublished");

    /// <summary>A fault of ours.</summary>
    public static string SomethingWrong => Say("heading.somethingWrong");

    /// <summary>The title of an address that leads nowhere.</summary>
    public static string NotFoundTitle => Say("heading.notFoundTitle");

    /// <summary>Over the chapters of a long page.</summary>
    public static string OnThisPage => Say("heading.onThisPage");

    /// <summary>An address that leads nowhere.</summary>
    public static string NoPage => Say("heading.noPage");

    /// <summary>What falls.</summary>
    public static string NeedsALook => Say("heading.needsALook");

    /// <summary>What stands behind the results.</summary>
    public static string HowSure => Say("heading.howSure");

    /// <summary>The table of a page.</summary>
    public static string Table => Say("heading.table");

    /// <summary>The tables of a page.</summary>
    public static string Tables => Say("heading.tables");

    /// <summary>One species, area by area.</summary>
    public static string ByWatershed => Say("heading.byWatershed");

    /// <summary>One area, species by species.</summary>
    public static string EachSpecies => Say("heading.eachSpecies");

    /// <summary>All species of an area as one.</summary>
    public static string AllTogether => Say("heading.allTogether");

    /// <summary>Species without a result, below others.</summary>
    public static string MoreSpecies => Say("heading.moreSpecies");

    /// <summary>Species without a result, alone.</summary>
    public static string AllSpecies => Say("heading.allSpecies");

    /// <summary>The settings of an edition.</summary>
    public static string Choices => Say("heading.choices");

    /// <summary>Files to take away.</summary>
    public static string Download => Say("heading.download");

    /// <summary>The table of all watersheds.</summary>
    public static string AllWatersheds => Say("heading.allWatersheds");

    /// <summary>A table of an area.</summary>
    public static string EverySpeciesIn(string area) => Say("heading.everySpeciesIn", ("area", area));

    /// <summary>A table of a species.</summary>
    public static string EveryAreaOf(string species) => Say("heading.everyAreaOf", ("species", species));

    /// <summary>A table of scores.</summary>
    public static string ConditionBySeason => Say("heading.conditionBySeason");

    /// <summary>A table of effort.</summary>
    public static string ListeningBySeason => Say("heading.listeningBySeason");

    /// <summary>The table of a chart.</summary>
    public static string SeasonBySeason(string title) => Say("heading.seasonBySeason", ("title", title));

    /// <summary>What opens a table.</summary>
    public static string TableOf(string name) => Say("heading.tableOf", ("name", name));

    /// <summary>The parts of a score, species by species.</summary>
    public static string HoldsBelow => Say("heading.holdsBelow");

    /// <summary>The same with its season.</summary>
    public static string HoldsBelowIn(int season) => Say("heading.holdsBelowIn", ("season", Phrases.Season(season)));
}
