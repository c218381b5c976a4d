using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Storage.Editions;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Indicators.Web.Tests.Invented;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Pages of an edition that another has replaced.</summary>
public sealed class EarlierEditionTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    private async Task<IHtmlDocument> Read(string address, HttpStatusCode expected = HttpStatusCode.OK)
    {
        var response = await _app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(expected, response.StatusCode);
        return new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    public static TheoryData<string> Results => ["/", "/watersheds/990100010101", "/species", "/species/RASY", "/methods", "/cautions"];

    [Theory]
    [MemberData(nameof(Results))]
    public async Task Page_of_an_earlier_edition_says_so_and_leads_to_todays(string address)
    {
        var page = await Read($"{address}?edition=2");
        var notice = Assert.Single(page.QuerySelectorAll(".earlier"));
        Assert.Contains("earlier edition, number 2, with surveys up to 2025", notice.TextContent, StringComparison.Ordinal);
        Assert.Equal(address, notice.QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("number 3", notice.QuerySelector("a")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(_app.Address.GetLeftPart(UriPartial.Authority) + address, page.QuerySelector("link[rel=canonical]")!.GetAttribute("href"));
        Assert.Contains("Edition 2", page.QuerySelector("footer")!.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Results))]
    public async Task Links_of_an_earlier_edition_stay_in_it(string address)
    {
        var page = await Read($"{address}?edition=2");
        var links = page.QuerySelectorAll("a[href^='/']").Where(link => link.ParentElement!.ClassName != "earlier").Select(link => link.GetAttribute("href")!).ToList();
        Assert.NotEmpty(links);
        Assert.All(links, link => Assert.Matches("[?&]edition=2$", link));
        foreach (string link in links.Distinct())
            Assert.Equal(HttpStatusCode.OK, (await _app.Client.GetAsync(new Uri(link, UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/?edition=3")]
    [InlineData("/watersheds/990100010101?edition=3")]
    public async Task Page_of_todays_edition_has_plain_links_and_no_notice(string address)
    {
        var page = await Read(address);
        Assert.Empty(page.QuerySelectorAll(".earlier"));
        Assert.DoesNotContain(page.QuerySelectorAll("a"), link => link.GetAttribute("href")!.Contains("edition=", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/?edition=1")]
    [InlineData("/watersheds/990100010101?edition=4")]
    [InlineData("/species/RASY?edition=two")]
    [InlineData("/methods?edition=")]
    [InlineData("/?edition=-2")]
    [InlineData("/?edition=99999999999999999999")]
    public async Task Unknown_edition_is_a_404_that_says_so(string address) =>
        Assert.Contains("There is no page for this edition", (await Read(address, HttpStatusCode.NotFound)).Body!.TextContent, StringComparison.Ordinal);

    [Fact]
    public async Task Download_of_an_earlier_edition_carries_its_number()
    {
        var answer = await _app.Client.GetAsync(new Uri("/downloads/trends.csv?edition=2", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("trends-edition-2.csv", answer.Content.Headers.ContentDisposition?.FileName);
        foreach (string wrong in new[] { "1", "x" })
            Assert.Equal(HttpStatusCode.NotFound, (await _app.Client.GetAsync(new Uri($"/downloads/trends.csv?edition={wrong}", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Theory]
    [InlineData("/species/RASY", "/species/RASY?edition=7")]
    [InlineData("/species#table", "/species?edition=7#table")]
    [InlineData("/seasons?by=name", "/seasons?by=name&edition=7")]
    [InlineData("#main", "#main")]
    [InlineData("//elsewhere.example/", "//elsewhere.example/")]
    [InlineData("https://elsewhere.example/", "https://elsewhere.example/")]
    public void Address_of_ours_asks_for_the_edition_and_no_other_does(string address, string expected) =>
        Assert.Equal(expected, EditionAddress.In(7, address));

    [Fact]
    public void Shelf_keeps_the_editions_asked_for_last_and_reads_the_others_again()
    {
        var basis = InventedEdition.Reader();
        var reader = basis with { EarlierHeaders = [.. Enumerable.Range(4, 6).Select(number => basis.EarlierHeaders[0] with { Number = number })] };
        var shelf = new EditionShelf(reader);
        var first = shelf.ByNumber(4);
        for (int number = 5; number < 5 + EditionShelf.Room - 1; number++)
            Assert.NotNull(shelf.ByNumber(number));
        Assert.Same(first, shelf.ByNumber(4));
        var current = shelf.Current();
        Assert.Same(current, shelf.Current());
        Assert.Same(first, shelf.ByNumber(4));
        for (int number = 5; number < 5 + EditionShelf.Room; number++)
            Assert.NotNull(shelf.ByNumber(number));
        Assert.NotSame(first, shelf.ByNumber(4));
        Assert.Null(shelf.ByNumber(77));
    }
}
