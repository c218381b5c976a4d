using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Web.Serving;
using Indicators.Web.Tests.Invented;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class PagesTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    public static TheoryData<string> Pages =>
    [
        "/", "/watersheds/99010001", "/watersheds/990100010101", "/watersheds/990100010201", "/watersheds/99",
        "/neighbourhood", "/neighbourhood?q=heron", "/neighbourhood?q=nowhere", "/neighbourhood/990100010101", "/neighbourhood/990100010201", "/w/w1", "/w/w2", "/w/w1/sign",
        "/species", "/species/RASY", "/species/RACL", "/species/ACBL", "/methods", "/cautions",
    ];

    private async Task<IHtmlDocument> Read(string address, HttpStatusCode expected = HttpStatusCode.OK)
    {
        var response = await _app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(expected, response.StatusCode);
        return new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private static string Text(IHtmlDocument page) => page.Body!.TextContent.Replace('\u00A0', ' ');

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_has_one_heading_a_title_and_no_inline_script_or_style(string address)
    {
        var page = await Read(address);
        Assert.Single(page.QuerySelectorAll("h1"));
        Assert.NotEqual("", page.Title);
        Assert.Empty(page.QuerySelectorAll("style, script:not([src]), [style]"));
        Assert.DoesNotContain(page.All, element => element.Attributes.Any(attribute => attribute.Name.StartsWith("on", StringComparison.OrdinalIgnoreCase)));
        Assert.All(page.QuerySelectorAll("script[src], link[href]:not([rel=canonical], [rel=alternate])"), element =>
            Assert.StartsWith(Assets.Folder, element.GetAttribute("src") ?? element.GetAttribute("href"), StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Links_of_a_page_lead_somewhere(string address)
    {
        var links = (await Read(address)).QuerySelectorAll("a[href^='/']").Select(link => link.GetAttribute("href")!).Distinct().ToList();
        foreach (string link in links)
        {
            var response = await _app.Client.GetAsync(new Uri(link, UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        }
    }

    [Theory]
    [InlineData("/watersheds/990100010101")]
    [InlineData("/species/RASY")]
    [InlineData("/neighbourhood/990100010101")]
    [InlineData("/w/w1")]
    public async Task Results_page_goes_from_answer_to_picture_to_certainty_to_table_to_download(string address)
    {
        string html = (await Read(address)).Body!.InnerHtml;
        string[] marks = ["class=\"lead\"", "<svg", "How sure we are, and why", "id=\"table\"", html.Contains("id=\"download\"", StringComparison.Ordinal) ? "id=\"download\"" : "id=\"only\""];
        var places = marks.Select(mark => html.IndexOf(mark, StringComparison.Ordinal)).ToList();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    [Fact]
    public async Task Watershed_page_says_the_sentence_of_each_species()
    {
        string text = Text(await Read("/watersheds/990100010101"));
        Assert.Contains("We have heard less and less wood frog calling in Marl Creek since 2012. That is about 4 % less each season. We are quite sure of the direction (95 % range: 2 to 6 % less). That allows for good and bad springs. Over just these seasons the range is 3 to 6 % less.", text, StringComparison.Ordinal);
        Assert.Contains("In 2026 the condition of Marl Creek was between fair and good. It got 68 of 100 points (95 % range: 61 to 75).", text, StringComparison.Ordinal);
        Assert.Contains("We have not heard green frog in Marl Creek.", text, StringComparison.Ordinal);
        Assert.Contains("On 31 % of surveys we heard a full chorus", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_result_says_how_well_it_is_supported_on_cards_in_tables_and_for_the_score()
    {
        var page = await Read("/watersheds/990100010101");
        string text = Text(page);
        Assert.Contains("This result is partly supported. It rests on just 10 wetlands. Full choruses may hide a change.", text, StringComparison.Ordinal);
        Assert.Contains("People who are new here made 70 % of the last three seasons' surveys.", text, StringComparison.Ordinal);
        Assert.Contains("Of the 4 species we expect, 3 have a trend that is well or partly supported. So we call the score well supported.", text, StringComparison.Ordinal);
        Assert.Equal(
            ["partly supported", "partly supported", "partly supported", "thin", ""],
            page.QuerySelectorAll("#table ~ .scroll tbody tr td:last-child").Take(5).Select(cell => cell.TextContent.Trim()));
        Assert.Contains("Scatter about the trend (Pearson, 1 for Poisson)", Text(await Read("/species/RASY")), StringComparison.Ordinal);
        Assert.Contains("partly supported", Text(await Read("/species")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Watershed_page_draws_every_series_and_puts_a_table_under_it()
    {
        var page = await Read("/watersheds/990100010101");
        Assert.Equal(4, page.QuerySelectorAll(".card svg[role=img][aria-label]").Length);
        Assert.Equal(2, page.QuerySelectorAll(".large svg").Length);
        Assert.All(page.QuerySelectorAll(".card:has(svg)"), card => Assert.Equal(card.TextContent.Contains("leopard", StringComparison.Ordinal) ? 14 : 15, card.QuerySelectorAll("tbody tr").Length));
        // The leopard frog's line breaks at the season without surveys.
        Assert.Equal(2, page.QuerySelectorAll(".card").Single(card => card.TextContent.StartsWith("\n  Northern leopard frog", StringComparison.Ordinal)).QuerySelectorAll("path.line").Length);
    }

    [Fact]
    public async Task Area_without_enough_listening_says_what_is_missing()
    {
        string text = Text(await Read("/watersheds/990100010201"));
        Assert.Contains("We can't give watershed 990100010201 a score for 2026 yet.", text, StringComparison.Ordinal);
        Assert.Contains("It needs 5 wetlands; there are 3.", text, StringComparison.Ordinal);
        Assert.Contains("There are dots but no line", text, StringComparison.Ordinal);
        Assert.Contains("To tell, we need 5 or more wetlands that heard it, with two seasons of listening. So far there are 2.", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Index_without_a_range_is_neither_drawn_as_a_line_nor_told()
    {
        var card = (await Read("/watersheds/990100010201")).QuerySelectorAll(".card").Single(each => each.QuerySelector("h3")!.TextContent == "Northern leopard frog");
        Assert.Empty(card.QuerySelectorAll("path.line, .point, .end, .band"));
        Assert.Equal(14, card.QuerySelectorAll("circle.raw").Length);
        Assert.All(card.QuerySelectorAll("tbody tr"), row => Assert.Equal("none: no range yet", row.Children[1].TextContent));
    }

    [Fact]
    public async Task Protected_species_is_not_named_where_it_is_not_told()
    {
        foreach (string address in new[] { "/watersheds/990100010101", "/watersheds/990100010102", "/watersheds/990100010201", "/watersheds/9901000101" })
            Assert.DoesNotContain("cricket", Text(await Read(address)), StringComparison.OrdinalIgnoreCase);
        var species = await Read("/species/ACBL");
        Assert.DoesNotContain("Marl Creek", Text(species), StringComparison.Ordinal);
        Assert.DoesNotContain("Otter Lake", Text(species), StringComparison.Ordinal);
        Assert.Contains("Telling where it lives could harm it.", Text(species), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Score_table_adds_up_along_rows_and_columns_to_the_score_shown()
    {
        var table = (await Read("/watersheds/990100010101")).QuerySelector("[aria-label^='What holds the score'] table")!;
        static decimal Number(string text) => text.Trim().Length == 0 ? 0 : decimal.Parse(text.Trim().Replace('\u2212', '-'), System.Globalization.CultureInfo.InvariantCulture);
        var rows = table.QuerySelectorAll("tbody tr").Select(row => row.QuerySelectorAll("td").Select(cell => Number(cell.TextContent)).ToArray()).ToList();
        var total = table.QuerySelectorAll("tfoot td").Select(cell => Number(cell.TextContent)).ToArray();
        Assert.All(rows, row => Assert.Equal(row[..4].Sum(), row[4]));
        for (int column = 0; column < total.Length; column++)
            Assert.Equal(rows.Sum(row => row[column]), total[column]);
        // 100 − 31.771 = 68.229 by hand from the invented lines.
        Assert.Equal(68.2m, 100 + total[4]);
        Assert.DoesNotContain("cricket", table.TextContent, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Overview_numbers_the_watersheds_alike_on_the_map_and_in_the_list()
    {
        var page = await Read("/");
        var list = page.QuerySelectorAll(".places li a").Select(link => link.GetAttribute("href")).ToList();
        var map = page.QuerySelectorAll(".map a").Select(link => (Number: link.QuerySelector("text")!.TextContent, Href: link.GetAttribute("href"))).ToList();
        Assert.Equal(3, list.Count);
        Assert.Equal(2, map.Count);
        Assert.All(map, area => Assert.Equal(list[int.Parse(area.Number, System.Globalization.CultureInfo.InvariantCulture) - 1], area.Href));
    }

    [Fact]
    public async Task Areas_that_repeat_another_are_left_out_of_lists_yet_have_a_page()
    {
        var page = await Read("/");
        Assert.Equal(["99010001", "9901000101", "990100010101", "990100010102", "990100010201"], page.QuerySelectorAll("#table ~ .scroll tbody tr td:nth-child(2)").Select(cell => cell.TextContent));
        await Read("/watersheds/990100");
    }

    [Fact]
    public async Task Chapters_of_the_methods_are_listed_and_lead_to_their_headings()
    {
        var page = await Read("/methods");
        var chapters = page.QuerySelectorAll("main details a").Select(link => (link.GetAttribute("href")!, link.TextContent)).ToList();
        Assert.Equal(page.QuerySelectorAll(".prose h2").Select(heading => ("#" + heading.Id, heading.TextContent)), chapters);
        Assert.Equal(chapters.Count, chapters.Distinct().Count());
        Assert.True(chapters.Count > 5);
    }

    [Theory]
    [InlineData("/watersheds/990100019999")]
    [InlineData("/watersheds/abc")]
    [InlineData("/watersheds/123")]
    [InlineData("/species/NONE")]
    [InlineData("/nowhere")]
    [InlineData("/problem")]
    [InlineData("/downloads/nothing.csv")]
    [InlineData("/downloads/trends.xlsx")]
    [InlineData("/downloads/trends")]
    [InlineData("/assets/none.css")]
    public async Task Unknown_address_is_a_real_404_with_a_page(string address)
    {
        var page = await Read(address, HttpStatusCode.NotFound);
        Assert.Contains("There is no page", Text(page), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_published_yet_is_said_plainly()
    {
        await using var app = await RunningApp.Start(new InventedReader());
        string home = await app.Client.GetStringAsync(new Uri("/", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("Nothing has been published yet", home, StringComparison.Ordinal);
        var results = await app.Client.GetAsync(new Uri("/watersheds/99", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("/", results.Headers.Location?.ToString());
        foreach (string open in new[] { "/methods", "/cautions" })
            Assert.Contains("<h1", await app.Client.GetStringAsync(new Uri(open, UriKind.Relative), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fault_of_ours_is_a_500_with_a_page_that_tells_nothing_of_the_inside()
    {
        await using var app = await RunningApp.Start(new InventedReader { Failure = new InvalidOperationException("secret path") });
        var response = await app.Client.GetAsync(new Uri("/", UriKind.Relative), TestContext.Current.CancellationToken);
        string html = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.InternalServerError, response.StatusCode);
        Assert.Contains("Something went wrong on our side", html, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", html, StringComparison.Ordinal);
        Assert.Equal(SecurityHeaders.ContentPolicy, response.Headers.GetValues("Content-Security-Policy").Single());
    }

    [Fact]
    public async Task Pictures_of_the_method_text_are_served_and_say_what_they_show()
    {
        var pictures = (await Read("/methods")).QuerySelectorAll("main img");

        Assert.NotEmpty(pictures);
        foreach (var picture in pictures)
        {
            Assert.True(picture.GetAttribute("alt")!.Length > 30);
            string svg = await _app.Client.GetStringAsync(new Uri(picture.GetAttribute("src")!, UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
            Assert.DoesNotContain("style", svg, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Analysts_find_which_interval_it_is_behind_a_click()
    {
        string species = (await Read("/species/RASY")).QuerySelector("details .analyst")!.TextContent.Replace('\u00A0', ' ');
        Assert.Contains("% interval of observed change: ", species, StringComparison.Ordinal);
        Assert.Contains(" degrees of freedom.", species, StringComparison.Ordinal);
        string watershed = (await Read("/watersheds/990100010101")).QuerySelector("details .analyst")!.TextContent.Replace('\u00A0', ' ');
        Assert.StartsWith("Score 68.2, 95 % interval 60.8 to 75.1;", watershed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cautions_each_name_their_source()
    {
        var items = (await Read("/cautions")).QuerySelectorAll("main li");
        Assert.True(items.Length >= 12);
        Assert.All(items, item => Assert.Matches("Source: .{8,}|Common practice, no source", item.TextContent));
    }
}
