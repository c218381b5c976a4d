using Indicators.Analysis.Results;
using Indicators.Monitoring;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>What kind of thing an address is about.</summary>
public enum Subject
{
    /// <summary>A watershed.</summary>
    Watershed,

    /// <summary>A species.</summary>
    Species,

    /// <summary>A wetland.</summary>
    Wetland,
}

/// <summary>What is read elsewhere than on our pages: in feeds and calendars, and of what an edition no longer has.</summary>
public static class ShareSentences
{
    /// <summary>The feed of editions.</summary>
    public static string FeedTitle(string programme) => Say("share.feedTitle", ("programme", programme));

    /// <summary>The words of the link to it.</summary>
    public static string FeedLink => Say("share.feedLink");

    /// <summary>An edition in the feed.</summary>
    public static string EntryTitle(long number, EditionCounts counts) =>
        Say("share.entryTitle", ("number", Phrases.Number(number, "0")), ("season", Phrases.Season(counts.LastSeason)));

    /// <summary>What is new in an edition, in a sentence or two.</summary>
    /// <param name="now">How much went into it.</param>
    /// <param name="before">How much went into the one before; null for the first.</param>
    /// <param name="isSameInput">Whether both rest on the very same surveys and places.</param>
    public static string WhatIsNew(EditionCounts now, EditionCounts? before, bool isSameInput)
    {
        if (before is null)
            return Say("share.entryFirst", ("surveys", now.Surveys));
        // A run up to a later season says something new of surveys that were there before.
        if (now.LastSeason > before.LastSeason)
            return Say("share.entrySeasons", ("seasons", now.LastSeason - before.LastSeason), ("last", Phrases.Season(now.LastSeason)), ("surveys", now.Surveys));
        if (isSameInput)
            return Say("share.entryAgain");
        int more = now.Surveys - before.Surveys;
        return more switch
        {
            > 0 => Say("share.entryMore", ("surveys", more)),
            < 0 => Say("share.entryFewer", ("surveys", -more)),
            _ => Say("share.entryMended"),
        };
    }

    /// <summary>The words of the link to a calendar.</summary>
    public static string CalendarLink => Say("share.calendarLink");

    /// <summary>A calendar of calling windows.</summary>
    public static string CalendarName(string area) => Say("share.calendarName", ("area", area));

    /// <summary>One calling window in it.</summary>
    /// <param name="species">The species' name, which opens the line.</param>
    /// <param name="area">What people call the area.</param>
    public static string Event(string species, string area) => Say("share.event", ("species", species), ("area", area));

    /// <summary>What stands behind it.</summary>
    public static string EventNote(CallingWindow window) =>
        Say("share.eventNote", ("first", Phrases.Day(window.First)), ("last", Phrases.Day(window.Last)));

    /// <summary>The heading in place of a page that today's edition has nothing for.</summary>
    public static string LeftTitle => Say("share.leftTitle");

    /// <summary>Which edition was the last to have it.</summary>
    public static string Left(Subject subject, long number) => Say(
        subject switch
        {
            Subject.Watershed => "share.leftWatershed",
            Subject.Species => "share.leftSpecies",
            _ => "share.leftWetland",
        },
        ("number", Phrases.Number(number, "0")));

    /// <summary>The words of the link to that edition's page.</summary>
    public static string LeftLink(long number) => Say("share.leftLink", ("number", Phrases.Number(number, "0")));
}
