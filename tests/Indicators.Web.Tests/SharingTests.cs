using System.Globalization;
using System.Net;
using System.Text;
using System.Xml.Linq;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Web.Tests.Invented;
using Xunit;
using Calendar = Ical.Net.Calendar;
using FrequencyType = Ical.Net.FrequencyType;

namespace Indicators.Web.Tests;

/// <summary>What links, feeds, calendars and search engines read of us.</summary>
public sealed class SharingTests
{
    private const string Public = "https://frogs.example";

    private static readonly XNamespace Atom = "http://www.w3.org/2005/Atom", Map = "http://www.sitemaps.org/schemas/sitemap/0.9", Xhtml = "http://www.w3.org/1999/xhtml";

    private static async Task<HttpResponseMessage> Get(RunningApp app, string address, HttpStatusCode expected = HttpStatusCode.OK)
    {
        var answer = await app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(expected, answer.StatusCode);
        return answer;
    }

    private static async Task<string> Text(RunningApp app, string address) =>
        await (await Get(app, address)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

    private static async Task<IHtmlDocument> Read(RunningApp app, string address) => new HtmlParser().ParseDocument(await Text(app, address));

    private static string? Meta(IHtmlDocument page, string property) => page.QuerySelector($"meta[property='{property}']")?.GetAttribute("content");

    [Theory]
    [InlineData("/", "/", "en_US", "es_ES", "The condition of")]
    [InlineData("/watersheds/990100010101", "/watersheds/990100010101", "en_US", "es_ES", "In 2026 the condition of Marl Creek was between fair and good.")]
    [InlineData("/watersheds/990100010101?edition=2", "/watersheds/990100010101", "en_US", "es_ES", "Marl Creek")]
    [InlineData("/es/species/RASY", "/es/species/RASY", "es_ES", "en_US", "wood frog")]
    [InlineData("/neighbourhood?q=nowhere&x=1", "/neighbourhood?q=nowhere", "en_US", "es_ES", "frogs and toads near you")]
    [InlineData("/w/w1", "/w/w1", "en_US", "es_ES", "surveys")]
    [InlineData("/w/w1/sign", "/w/w1/sign", "en_US", "es_ES", "Frogs and toads call here")]
    [InlineData("/editions/2/3", "/editions/2/3", "en_US", "es_ES", "in other words")]
    [InlineData("/season", "/seasons/2026", "en_US", "es_ES", "In 2026 we listened")]
    [InlineData("/es/cautions", "/es/cautions", "es_ES", "en_US", "reglas de su lugar")]
    public async Task Page_says_in_its_head_what_a_link_to_it_shows(string address, string canonical, string locale, string other, string answer)
    {
        await using var app = await RunningApp.Start(publicAddress: Public + "/");
        var page = await Read(app, address);
        Assert.Equal(Public + canonical, page.QuerySelector("link[rel=canonical]")!.GetAttribute("href"));
        Assert.Equal(Public + canonical, Meta(page, "og:url"));
        Assert.Equal("website", Meta(page, "og:type"));
        Assert.Equal(locale, Meta(page, "og:locale"));
        Assert.Equal(other, Meta(page, "og:locale:alternate"));
        Assert.Equal("Listening at Ninety-Nine Lakes", Meta(page, "og:site_name"));
        Assert.Contains(Meta(page, "og:title")!, page.Title, StringComparison.Ordinal);
        string said = Meta(page, "og:description")!;
        Assert.Equal(said, page.QuerySelector("meta[name=description]")!.GetAttribute("content"));
        Assert.InRange(said.Length, 20, 300);
        // What is said of the page stands on the page.
        string text = string.Join(' ', page.QuerySelectorAll("main p").Select(each => each.TextContent)).Replace('\u00A0', ' ');
        Assert.Contains(said.Split(". ")[0].TrimEnd('.'), text, StringComparison.Ordinal);
        if (address != "/")
            Assert.Contains(answer, said, StringComparison.Ordinal);
        var versions = page.QuerySelectorAll("link[rel=alternate][hreflang]").Select(link => link.GetAttribute("href")!).ToList();
        Assert.Contains(Public + canonical, versions);
        Assert.All(versions, each => Assert.StartsWith(Public + "/", each, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_a_public_address_the_host_that_was_asked_stands_in_for_it()
    {
        await using var app = await RunningApp.Start();
        Assert.Equal(app.Address.GetLeftPart(UriPartial.Authority) + "/species", (await Read(app, "/species")).QuerySelector("link[rel=canonical]")!.GetAttribute("href"));
    }

    // RFC 4287: 4.1.1 (feed), 4.1.2 (entry), 4.2.6 (id), 4.2.7 (link), 3.3 (dates by RFC 3339).
    [Theory]
    [InlineData("", "en", "New: the season 2026. It rests on 2,950 surveys now.", "The first results we publish, from 2,740 surveys.")]
    [InlineData("/es", "es", "Nuevo: la temporada 2026. Ahora se apoya en 2950 muestreos.", "Los primeros resultados que publicamos, de 2740 muestreos.")]
    public async Task Feed_has_what_the_standard_asks_for_and_says_what_is_new(string prefix, string language, string latest, string first)
    {
        var basis = InventedEdition.Reader();
        var earlier = basis.EarlierHeaders[0];
        await using var app = await RunningApp.Start(basis with { EarlierHeaders = [earlier with { Manifest = earlier.Manifest with { InputsSha256 = new string('b', 64) } }] }, publicAddress: Public);
        var answer = await Get(app, prefix + "/editions.atom");
        Assert.Equal("application/atom+xml", answer.Content.Headers.ContentType?.MediaType);
        var feed = XDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).Root!;
        Assert.Equal(Atom + "feed", feed.Name);
        Assert.Equal(language, feed.Attribute(XNamespace.Xml + "lang")?.Value);
        Assert.NotEqual("", feed.Elements(Atom + "author").Single().Element(Atom + "name")!.Value);
        Assert.Equal($"{Public}{prefix}/editions.atom", feed.Elements(Atom + "link").Single(link => link.Attribute("rel")!.Value == "self").Attribute("href")!.Value);
        var entries = feed.Elements(Atom + "entry").ToList();
        Assert.Equal(2, entries.Count);
        foreach (var element in entries.Prepend(feed))
        {
            Assert.StartsWith("urn:uuid:", element.Elements(Atom + "id").Single().Value, StringComparison.Ordinal);
            Assert.NotEqual("", element.Elements(Atom + "title").Single().Value);
            Assert.True(DateTimeOffset.TryParseExact(element.Elements(Atom + "updated").Single().Value, "yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture, DateTimeStyles.None, out _));
            Assert.Single(element.Elements(Atom + "link"), link => link.Attribute("rel")!.Value == "alternate");
        }
        Assert.Equal(3, entries.Prepend(feed).Select(element => element.Element(Atom + "id")!.Value).Distinct().Count());
        Assert.Equal(entries[0].Element(Atom + "updated")!.Value, feed.Element(Atom + "updated")!.Value);
        Assert.Equal([latest, first], entries.Select(entry => entry.Element(Atom + "summary")!.Value.Replace('\u00A0', ' ')));
        foreach (var entry in entries)
            await Get(app, new Uri(entry.Element(Atom + "link")!.Attribute("href")!.Value).PathAndQuery);
    }

    [Fact]
    public async Task Ids_of_the_feed_are_the_same_after_a_new_start_and_elsewhere()
    {
        await using var one = await RunningApp.Start();
        await using var other = await RunningApp.Start(publicAddress: Public);
        Assert.Equal(Ids(await Text(one, "/editions.atom")), Ids(await Text(other, "/editions.atom")));
        Assert.Empty(Ids(await Text(one, "/editions.atom")).Intersect(Ids(await Text(one, "/es/editions.atom"))));

        static List<string> Ids(string feed) => [.. XDocument.Parse(feed).Descendants(Atom + "id").Select(id => id.Value)];
    }

    // RFC 5545: 3.1 (lines of at most 75 octets, CRLF), 3.6 (PRODID, VERSION, at least one component), 3.6.1 (UID, DTSTAMP, DTSTART; DTEND not included).
    [Theory]
    [InlineData("", "Wood frog may call in Marl Creek", "We listen for it here from 1 April to 15 June.")]
    [InlineData("/es", "Wood frog puede cantar en Marl Creek", "Aquí la escuchamos del 1 de abril al 15 de junio.")]
    public async Task Calendar_has_what_the_standard_asks_for_and_an_event_a_species_a_year(string prefix, string title, string note)
    {
        await using var app = await RunningApp.Start();
        var answer = await Get(app, prefix + "/watersheds/990100010101/calling.ics");
        Assert.Equal("text/calendar", answer.Content.Headers.ContentType?.MediaType);
        string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', text.Replace("\r\n", "", StringComparison.Ordinal));
        Assert.All(text.Split("\r\n"), line => Assert.InRange(Encoding.UTF8.GetByteCount(line), 0, 75));
        Assert.Contains("\r\nPRODID:", text, StringComparison.Ordinal);
        Assert.Contains("\r\nVERSION:2.0\r\n", text, StringComparison.Ordinal);
        var calendar = Calendar.Load(text)!;
        var events = calendar.Events;
        // The four expected; the protected one is in nobody's calendar, nor is one that is not expected.
        Assert.Equal(4, events.Count);
        Assert.DoesNotContain("cricket", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("Green frog", text, StringComparison.Ordinal);
        var wood = Assert.Single(events, each => each.Summary == title);
        Assert.StartsWith(note, wood.Description!.Replace('\u00A0', ' '), StringComparison.Ordinal);
        Assert.All(events, each =>
        {
            Assert.True(Guid.TryParse(each.Uid, out _));
            Assert.Equal(new DateTime(2026, 9, 2, 12, 0, 0, DateTimeKind.Utc), each.DtStamp!.AsUtc);
            Assert.False(each.Start!.HasTime);
            Assert.Equal(new DateOnly(2026, 4, 1), each.Start.Date);
            Assert.Equal(new DateOnly(2026, 6, 16), each.End!.Date);
            Assert.Equal(FrequencyType.Yearly, each.RecurrenceRule!.Frequency);
        });
        Assert.Equal(4, events.Select(each => each.Uid).Distinct().Count());
        Assert.Contains(
            "/watersheds/990100010101/calling.ics", (await Read(app, prefix + "/watersheds/990100010101")).QuerySelectorAll("a").Select(link => link.GetAttribute("href")!.Replace("/es/", "/", StringComparison.Ordinal)));
        await Get(app, "/watersheds/990199/calling.ics", HttpStatusCode.NotFound);
        await Get(app, "/watersheds/x/calling.ics", HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task Site_map_holds_every_page_in_every_language_and_no_protected_species()
    {
        await using var app = await RunningApp.Start(publicAddress: Public);
        var map = XDocument.Parse(await Text(app, "/sitemap.xml"));
        var urls = map.Root!.Elements(Map + "url").ToList();
        var addresses = urls.Select(url => url.Element(Map + "loc")!.Value).ToList();
        Assert.Equal(addresses.Count, addresses.Distinct().Count());
        Assert.Contains(Public + "/", addresses);
        Assert.Contains(Public + "/es", addresses);
        Assert.Contains(Public + "/es/watersheds/990100010101", addresses);
        Assert.Contains(Public + "/w/w1", addresses);
        Assert.Contains(Public + "/es/editions/2/3", addresses);
        Assert.DoesNotContain(addresses, address => address.Contains("ACBL", StringComparison.Ordinal) || address.Contains('?', StringComparison.Ordinal));
        foreach (var url in urls)
        {
            string own = url.Element(Map + "loc")!.Value;
            Assert.Equal("2026-09-02", url.Element(Map + "lastmod")!.Value);
            var others = url.Elements(Xhtml + "link").Select(link => link.Attribute("href")!.Value).ToList();
            Assert.Equal(2, others.Count);
            Assert.Contains(own, others);
            Assert.Subset(addresses.ToHashSet(), others.ToHashSet());
            var page = await Read(app, new Uri(own).PathAndQuery);
            Assert.Equal(own, page.QuerySelector("link[rel=canonical]")!.GetAttribute("href"));
            Assert.Equal(others.Order(), page.QuerySelectorAll("link[rel=alternate][hreflang]").Select(link => link.GetAttribute("href")!).Order());
        }
        Assert.Contains($"Sitemap: {Public}/sitemap.xml\n", await Text(app, "/robots.txt"), StringComparison.Ordinal);
        await Get(app, "/es/sitemap.xml", HttpStatusCode.NotFound);
    }

    [Theory]
    [InlineData("/watersheds/990100010101", "This watershed is not part of today's edition. Edition 2 was the last that had it.", "See it in edition 2")]
    [InlineData("/neighbourhood/990100010101", "This watershed is not part of today's edition. Edition 2 was the last that had it.", "See it in edition 2")]
    [InlineData("/es/species/RASY", "Esta especie no es parte de la edición de hoy. La edición 2 fue la última que la tuvo.", "Ver en la edición 2")]
    [InlineData("/w/w1", "This wetland is not part of today's edition. Edition 2 was the last that had it.", "See it in edition 2")]
    [InlineData("/w/w1/sign", "This wetland is not part of today's edition. Edition 2 was the last that had it.", "See it in edition 2")]
    public async Task Address_that_todays_edition_has_nothing_for_leads_to_the_last_that_had(string address, string says, string link)
    {
        var (reader, control) = ChangingReader.Before(InventedEdition.Reader());
        control.Instead = (question, edition, answer) => edition != 3 ? answer : (question, answer) switch
        {
            (nameof(IEditionReader.Areas), IReadOnlyList<Area> areas) => areas.Where(area => area.Code != InventedEdition.Marl).ToList(),
            (nameof(IEditionReader.Species), IReadOnlyList<Species> species) => species.Where(one => one.Id != InventedEdition.Wood).ToList(),
            (nameof(IEditionReader.Wetlands), IReadOnlyList<WetlandPlace> places) => places.Where(place => place.Slug != "w1").ToList(),
            _ => answer,
        };
        await using var app = await RunningApp.Start(reader);
        var page = await Read(app, address);
        Assert.Contains(says, page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal("noindex", page.QuerySelector("meta[name=robots]")!.GetAttribute("content"));
        Assert.Null(page.QuerySelector("link[rel=canonical]"));
        var way = page.QuerySelectorAll("main a").Single(each => each.TextContent == link);
        Assert.Equal(address + "?edition=2", way.GetAttribute("href"));
        Assert.Contains("edition=2", (await Read(app, way.GetAttribute("href")!)).QuerySelector("header a.programme")!.GetAttribute("href")!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Address_that_no_edition_had_anything_for_leads_nowhere()
    {
        await using var app = await RunningApp.Start();
        foreach (string address in new[] { "/watersheds/990100010109", "/neighbourhood/990100010109", "/species/NONE", "/w/none", "/watersheds/990100010109?edition=2" })
            await Get(app, address, HttpStatusCode.NotFound);
    }
}
