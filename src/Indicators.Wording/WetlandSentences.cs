using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What the page and the sign of one wetland say. Never of a protected species, and the same where one was heard as where none was.</summary>
public static class WetlandSentences
{
    /// <summary>A wetland without a name.</summary>
    public static string Nameless(string id) => Say("wetlandPage.nameless", ("id", id));

    /// <summary>Where it is.</summary>
    public static string Kind(string area) => Say("wetlandPage.kind", ("area", area));

    /// <summary>How much listening there was, and how many species were heard in all seasons.</summary>
    public static string Lead(WetlandPlace place, int heard) =>
        $"{Say("wetlandPage.listening", ("surveys", place.Surveys), ("span", Phrases.Seasons(place.FirstSeason, place.LastSeason)))} " +
        (heard == 0 ? Say("wetlandPage.silent") : Say("wetlandPage.heard", ("n", heard)));

    /// <summary>How many of them were heard in the last season.</summary>
    public static string Latest(int season, int heard) => heard == 0
        ? Say("wetlandPage.latestSilent", ("season", Phrases.Season(season)))
        : Say("wetlandPage.latest", ("season", Phrases.Season(season)), ("n", heard));

    /// <summary>Why there is no score.</summary>
    public static string NoScore => Say("wetlandPage.noScore");

    /// <summary>What silence does not mean.</summary>
    public static string Silence => Say("wetlandPage.silence");

    /// <summary>That some species are not shown by wetland.</summary>
    public static string KeptBack => Say("wetlandPage.keptBack");

    /// <summary>What the grid shows, for those who do not see it.</summary>
    public static string Picture(string wetland, int species, WetlandPlace place) => Say(
        "wetlandPage.picture", ("wetland", wetland), ("n", species), ("span", Phrases.Seasons(place.FirstSeason, place.LastSeason)));

    /// <summary>How to read the grid.</summary>
    public static string Legend => Say("wetlandPage.legend");

    /// <summary>What the table holds.</summary>
    public static string Caption(string wetland) => Say("wetlandPage.caption", ("wetland", wetland));

    /// <summary>A column.</summary>
    public static string Season => Say("wetlandPage.season");

    /// <summary>A column.</summary>
    public static string Surveys => Say("wetlandPage.surveys");

    /// <summary>What was heard of a species in a season; empty when nobody listened in its calling season.</summary>
    public static string Cell(WetlandCalls? calls) => calls switch
    {
        null => "",
        { VisitsHeard: 0 } => Say("wetlandPage.cellSilent", ("visits", calls.Visits)),
        _ => Say(
            "wetlandPage.cell", ("heard", calls.VisitsHeard), ("visits", calls.Visits), ("level", Phrases.Number(calls.MeanCallLevel, "0.0"))),
    };

    /// <summary>What it all rests on.</summary>
    public static string Rests(WetlandPlace place) => Say("wetlandPage.rests", ("surveys", place.Surveys), ("stations", place.Stations));

    /// <summary>A link to the sign.</summary>
    public static string Sign => Say("wetlandPage.sign");

    /// <summary>The sign's title.</summary>
    public static string SignTitle(string wetland) => Say("wetlandPage.signTitle", ("wetland", wetland));

    /// <summary>What happens here.</summary>
    public static string SignLead => Say("wetlandPage.signLead");

    /// <summary>What opens the list of species.</summary>
    public static string SignMayHear => Say("wetlandPage.signMayHear");

    /// <summary>What the code is for.</summary>
    public static string SignScan => Say("wetlandPage.signScan");

    /// <summary>The code for those who do not see it.</summary>
    public static string SignQr(string address) => Say("wetlandPage.signQr", ("address", address));

    /// <summary>What visitors should mind. Common practice, no source.</summary>
    public static string SignCaution => Say("wetlandPage.signCaution");

    /// <summary>How to use the sign; not printed.</summary>
    public static string SignPrint => Say("wetlandPage.signPrint");

    /// <summary>A link back to the wetland's page.</summary>
    public static string Back(string wetland) => Say("wetlandPage.back", ("wetland", wetland));
}
