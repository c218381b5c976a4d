using System.Net;
using System.Text.Json;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Web.Tests.Invented;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class NeighbourhoodTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    private Task<HttpResponseMessage> Get(string address) => Get(_app, address);

    private static Task<HttpResponseMessage> Get(RunningApp app, string address) =>
        app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);

    private static async Task<IHtmlDocument> Read(RunningApp app, string address) =>
        new HtmlParser().ParseDocument(await (await Get(app, address)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

    private Task<IHtmlDocument> Read(string address) => Read(_app, address);

    private static string Text(IHtmlDocument page) => page.Body!.TextContent.Replace('\u00A0', ' ');

    [Theory]
    [InlineData("Marl Creek", "/neighbourhood/990100010101")]
    [InlineData("ETANG", "/neighbourhood/990100010102")]
    [InlineData("quiet", "/neighbourhood/990100010101")]
    public async Task Only_place_of_a_name_opens_at_once(string typed, string opened)
    {
        var answer = await Get($"/neighbourhood?q={Uri.EscapeDataString(typed)}");
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(opened, answer.Headers.Location!.ToString());
        var spanish = await Get($"/es/neighbourhood?q={Uri.EscapeDataString(typed)}");
        Assert.Equal("/es" + opened, spanish.Headers.Location!.ToString());
    }

    [Fact]
    public async Task Several_places_are_listed_best_first_and_say_what_they_are()
    {
        var page = await Read("/neighbourhood?q=heron");
        Assert.Equal(
            ["Heron Slough wetland in Marl Creek", "Heron Slough, landing station in Marl Creek", "Étang du Héron wetland in Otter Lake"],
            page.QuerySelectorAll("#found + ul li").Select(hit => hit.TextContent.Trim()));
        Assert.Equal("We found 3 places. Which one is yours?", page.QuerySelector("#found")!.TextContent);
        Assert.Equal("heron", page.QuerySelector("input[name=q]")!.GetAttribute("value"));
    }

    [Fact]
    public async Task Unknown_name_is_said_and_what_was_typed_stays_text()
    {
        var page = await Read("/neighbourhood?q=" + Uri.EscapeDataString("<b>nowhere</b>"));
        Assert.Equal("We know no place called “<b>nowhere</b>”. Try a part of the name, or pick a watershed from the list.", page.QuerySelector("#found")!.TextContent);
        Assert.Empty(page.QuerySelectorAll("#found b"));
        Assert.Equal(2, page.QuerySelectorAll(".map a").Length);
        Assert.Equal(3, page.QuerySelectorAll(".places li").Length);
    }

    [Fact]
    public async Task Answer_is_condition_and_direction_in_one_sentence()
    {
        var lead = (await Read("/neighbourhood/990100010101")).QuerySelector(".lead p")!;
        Assert.Equal("In 2026 the condition of Marl Creek was between fair and good, and its calling is going down.", lead.TextContent.Replace('\u00A0', ' '));
        Assert.Contains("We have no score for watershed 990100010201 in 2026 yet, and we can't tell yet which way its calling goes.", Text(await Read("/neighbourhood/990100010201")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task This_season_says_what_was_heard_in_how_many_wetlands()
    {
        var page = await Read("/neighbourhood/990100010101");
        string text = Text(page);
        Assert.Contains("In 2026 we made 36 surveys in 10 wetlands here.", text, StringComparison.Ordinal);
        Assert.Contains("We heard 4 of 5 kinds of frogs and toads that we listen for.", text, StringComparison.Ordinal);
        Assert.Equal(4, page.QuerySelectorAll("#chorus ~ svg.bars rect.bar").Length);
        Assert.Contains("9 of 12", page.QuerySelector("#table ~ .scroll")!.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    // The evening of 30 April in Chicago, already May in Greenwich; then May there too; then a month without calls.
    [InlineData("2026-05-01T02:00:00Z", "What calls in April")]
    [InlineData("2026-05-01T06:00:00Z", "What calls in May")]
    [InlineData("2026-11-25T12:00:00Z", "What calls in November")]
    public async Task This_month_is_that_of_the_programmes_own_time_zone(string now, string heading)
    {
        await using var app = await RunningApp.Start(clock: new FixedTime(DateTimeOffset.Parse(now, System.Globalization.CultureInfo.InvariantCulture)));
        var page = await Read(app, "/neighbourhood/990100010101");
        Assert.Equal(heading, page.QuerySelector("#month")!.TextContent);
        string text = Text(page);
        if (heading.EndsWith("November", StringComparison.Ordinal))
            Assert.Contains("In November no frog or toad that we listen for calls here. The next to start is", text, StringComparison.Ordinal);
        else
            Assert.Contains("Wood frog: people here have heard it from 9 April to 11 June, and most often around 2 May.", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Protected_species_has_its_season_and_no_days_heard()
    {
        string text = Text(await Read("/neighbourhood/99010001"));
        Assert.Contains("Blanchard's cricket frog: it calls from 1 April to 15 June.", text, StringComparison.Ordinal);
        var row = (await Read("/watersheds/99010001")).QuerySelectorAll("#calendar ~ details tbody tr").Single(each => each.TextContent.Contains("cricket", StringComparison.Ordinal));
        Assert.Equal(["1 April to 15 June", "kept back", "kept back", "kept back", "kept back"], row.QuerySelectorAll("td").Select(cell => cell.TextContent.Replace('\u00A0', ' ')));
        Assert.DoesNotContain("cricket", Text(await Read("/neighbourhood/990100010101")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Unknown_place_is_not_found()
    {
        Assert.Equal(HttpStatusCode.NotFound, (await Get("/neighbourhood/9999")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await Get("/neighbourhood/x")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await Get("/w/nothing")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await Get("/w/nothing/sign")).StatusCode);
    }

    [Fact]
    public async Task Shapes_for_the_browser_hold_the_smallest_watersheds_and_where_they_lead()
    {
        var answer = await Get("/es/shapes.json");
        using var shapes = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Equal(
            ["/es/neighbourhood/990100010101", "/es/neighbourhood/990100010102"],
            shapes.RootElement.EnumerateArray().Select(shape => shape.GetProperty("href").GetString()));
        Assert.Equal(-90.4, shapes.RootElement[0].GetProperty("rings")[0][0][0].GetDouble());
        var again = new HttpRequestMessage(HttpMethod.Get, new Uri(_app.Address, "/es/shapes.json"));
        again.Headers.IfNoneMatch.Add(answer.Headers.ETag!);
        Assert.Equal(HttpStatusCode.NotModified, (await _app.Client.SendAsync(again, TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task Watershed_page_says_what_holds_it_back_and_sets_it_beside_others_without_ranking()
    {
        var page = await Read("/watersheds/990100010101");
        string text = Text(page);
        Assert.Contains("Wood frog holds the score back most (\u221214.3 points).", text, StringComparison.Ordinal);
        Assert.Equal(["Presence: \u22127.5", "Sensitivity: \u22124.2", "Calling: \u221210.4", "Direction: \u22129.7"], page.QuerySelectorAll("#holds ~ ul")[0].Children.Select(line => line.TextContent));
        Assert.Contains("Good: 24 %", text, StringComparison.Ordinal);
        Assert.Contains("All 3 other scores are too close to call. We say that two scores differ only where their ranges do not meet.", text, StringComparison.Ordinal);
        Assert.Equal(3, page.QuerySelectorAll("#beside ~ .scroll tbody tr").Length);
    }

    [Fact]
    public async Task Watershed_page_shows_shorter_spans_groups_and_occupancy_beside_the_raw_share()
    {
        var page = await Read("/watersheds/990100010101");
        var wood = page.QuerySelectorAll("#spans ~ .scroll tbody tr").Single(row => row.TextContent.Contains("Wood frog", StringComparison.Ordinal));
        Assert.Equal(
            ["4 % less (2 to 6 % less). Chance of decline: 97 %", "4 % less (2 to 6 % less). Chance of decline: 97 %", "4 % less (2 to 6 % less). Chance of decline: 81 %"],
            wood.QuerySelectorAll("td").Select(cell => cell.TextContent.Replace('\u00A0', ' ')));
        Assert.Equal(2, page.QuerySelectorAll("#groups ~ .scroll tbody tr").Length);
        Assert.Contains("going down: 1.4 % less (0.2 to 2.6 % less)", Text(page), StringComparison.Ordinal);
        var occupied = page.QuerySelectorAll("#occupied ~ .scroll tbody tr").First(row => row.TextContent.Contains("Wood frog", StringComparison.Ordinal));
        Assert.Equal(["9 of 12", "75 %", "84 % (70 % to 93 %)"], occupied.QuerySelectorAll("td").Select(cell => cell.TextContent.Replace('\u00A0', ' ')));
        Assert.NotEmpty(page.QuerySelectorAll(".card path.smooth"));
    }

    [Theory]
    [InlineData("/downloads/trends.csv?area=990100010101", 5, "990100010101,")]
    [InlineData("/downloads/indices.csv?species=RASY", 135, "")]
    [InlineData("/downloads/wetland_calls.csv?wetland=w1", 15, "W1,")]
    [InlineData("/downloads/wetlands.csv?area=9901000101", 4, "")]
    public async Task Narrowed_download_holds_just_those_rows(string address, int rows, string start)
    {
        string[] lines = (await (await Get(address)).Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(rows, lines.Length - 1);
        Assert.All(lines.Skip(1), line => Assert.StartsWith(start, line, StringComparison.Ordinal));
        if (address.Contains("species", StringComparison.Ordinal))
            Assert.All(lines.Skip(1), line => Assert.Contains(",RASY,", line, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/watersheds/990100010101")]
    [InlineData("/es/watersheds/990100010101")]
    [InlineData("/species/RASY")]
    public async Task Chart_tells_those_who_do_not_see_it_the_direction_that_stands_over_it(string address)
    {
        var cards = (await Read(address)).QuerySelectorAll(".card").Where(card => card.QuerySelector("svg[role=img]") is not null).ToList();
        Assert.NotEmpty(cards);
        foreach (var card in cards)
        {
            string direction = card.QuerySelector(".direction")!.ChildNodes[^1].TextContent.Trim();
            Assert.EndsWith($": {direction}.", card.QuerySelector("svg[role=img]")!.GetAttribute("aria-label"), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("/", 5)]
    [InlineData("/es/neighbourhood/990100010101", 13)]
    [InlineData("/watersheds/990100010101", 18)]
    [InlineData("/species/RASY", 12)]
    [InlineData("/w/w1", 2)]
    [InlineData("/season", 9)]
    public async Task Page_offers_every_file_as_csv_and_as_json_under_its_name(string address, int files)
    {
        var page = await Read(address);
        var links = page.QuerySelectorAll("a[download]").ToList();
        Assert.Equal(2 * files, links.Count);
        Assert.Equal(links.Count, links.Select(link => link.GetAttribute("href")).Distinct().Count());
        foreach (var link in links)
        {
            var answer = await Get(link.GetAttribute("href")!);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Equal(link.TextContent == "CSV" ? "text/csv" : "application/json", answer.Content.Headers.ContentType!.MediaType);
            Assert.Contains(link.TextContent, link.GetAttribute("aria-label"), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("/downloads/condition.csv?species=RASY")]
    [InlineData("/downloads/trends.csv?wetland=w1")]
    [InlineData("/downloads/trends.csv?area=x")]
    [InlineData("/downloads/trends.csv?area=9999")]
    [InlineData("/downloads/trends.csv?species=NONE")]
    [InlineData("/downloads/wetland_calls.csv?wetland=nothing")]
    [InlineData("/downloads/wetland_calls.csv?wetland=w1&area=9901000101")]
    [InlineData("/downloads/pooled.csv?area=9901000101")]
    public async Task Download_that_cannot_be_narrowed_so_is_not_found(string address) =>
        Assert.Equal(HttpStatusCode.NotFound, (await Get(address)).StatusCode);
}
