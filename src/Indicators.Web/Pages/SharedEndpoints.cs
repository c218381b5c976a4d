using System.Globalization;
using System.Text;
using Indicators.Exchange.Sharing;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Indicators.Wording;
using NodaTime;

namespace Indicators.Web.Pages;

/// <summary>What other programs read of us: the feed of editions, calendars of calling windows, and the list of pages.</summary>
internal static class SharedEndpoints
{
    /// <summary>The feed's address.</summary>
    public const string Feed = "/editions.atom";

    public static void MapShared(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(Feed, ServeFeed);
        routes.MapGet("/watersheds/{code}/calling.ics", ServeCalendar);
        routes.MapGet("/sitemap.xml", ServeSiteMap);
        routes.MapGet("/robots.txt", ServeRobots);
    }

    private static IResult ServeFeed(HttpRequest request, EditionShelf shelf, PublicAddress address)
    {
        var all = shelf.All();
        if (all.Count == 0)
            return Results.NotFound();
        var (today, first, spoken) = (all[0], all[^1], Language.Current.Tag);
        string home = address.Whole(request, LanguageByAddress.AddressOf("/", Language.Current));
        var feed = new AtomFeed
        {
            Id = NameUuid.Of($"editions {first.Number} {first.Manifest.InputsSha256} {spoken}"),
            Title = ShareSentences.FeedTitle(today.Manifest.Settings.Name),
            Author = today.Manifest.Settings.Name,
            Language = spoken,
            SelfAddress = address.Of(request, Feed),
            Address = home,
            Entries = [.. all.Select((header, place) => Entry(header, place + 1 < all.Count ? all[place + 1] : null))],
        };
        return Results.Bytes(feed.Write(), $"{AtomFeed.MediaType}; charset=utf-8");

        AtomEntry Entry(EditionHeader header, EditionHeader? before) => new(
            NameUuid.Of($"edition {header.Number} {header.Manifest.InputsSha256} {spoken}"),
            ShareSentences.EntryTitle(header.Number, header.Counts),
            ShareSentences.WhatIsNew(header.Counts, before?.Counts, header.Manifest.InputsSha256 == before?.Manifest.InputsSha256),
            MadeAt(header),
            EditionAddress.OfWhole(header.Number, home));
    }

    private static IResult ServeCalendar(string code, HttpRequest request, EditionShelf shelf)
    {
        bool isAsked = long.TryParse(request.Query[EditionAddress.Query], NumberStyles.None, CultureInfo.InvariantCulture, out long number);
        if ((isAsked ? shelf.ByNumber(number) : shelf.Current()) is not { } edition
            || WatershedCode.Parse(code) is not { IsValid: true, Value: var watershed } || edition.AreaOf(watershed) is not { } area)
            return Results.NotFound();
        string name = PublishedEdition.NameOf(area);
        var windows = new CallsOfTheYear(edition, area, edition.CallingTimesOf(area.Code)).Windows
            .Select(each => new YearlyWindow(
                NameUuid.Of($"calling {area.Code} {each.Time.Species}"),
                ShareSentences.Event(each.Name, name),
                ShareSentences.EventNote(each.Time.Window),
                each.Time.Window))
            .ToList();
        return windows.Count == 0
            ? Results.NotFound()
            : Results.Bytes(
                WindowCalendar.Write(ShareSentences.CalendarName(name), edition.Header.Counts.LastSeason, MadeAt(edition.Header), windows),
                $"{WindowCalendar.MediaType}; charset=utf-8");
    }

    private static IResult ServeSiteMap(HttpRequest request, EditionShelf shelf, PublicAddress address)
    {
        // One list for all languages.
        if (request.PathBase.HasValue || shelf.Current() is not { } edition)
            return Results.NotFound();
        var day = MadeAt(edition.Header).InZone(DateTimeZoneProviders.Tzdb[edition.Settings.TimeZone]).Date;
        var pages = SitePages.Of(edition, [.. shelf.All().Select(header => header.Number)]).Select(page =>
            Language.All.Select(language => new SiteAddress(language.Tag, address.Whole(request, LanguageByAddress.AddressOf(page, language)))).ToList());
        return Results.Bytes(SiteMap.Write(pages, day), "application/xml; charset=utf-8");
    }

    private static IResult ServeRobots(HttpRequest request, PublicAddress address) => request.PathBase.HasValue
        ? Results.NotFound()
        : Results.Bytes(Encoding.UTF8.GetBytes($"User-agent: *\nDisallow:\nSitemap: {address.Whole(request, "/sitemap.xml")}\n"), "text/plain; charset=utf-8");

    private static Instant MadeAt(EditionHeader header) => header.PublishedAt ?? header.CreatedAt;
}
