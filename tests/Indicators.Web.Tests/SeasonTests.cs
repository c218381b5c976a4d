using System.Globalization;
using System.Net;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Analysis.Results;
using Indicators.Web.Reading;
using Indicators.Web.Tests.Invented;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>The season summary over the invented edition.</summary>
public sealed class SeasonTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    private async Task<IHtmlDocument> Read(string address, HttpStatusCode expected = HttpStatusCode.OK)
    {
        var response = await _app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(expected, response.StatusCode);
        return new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private static IElement Section(IHtmlDocument page, string id) => page.QuerySelector($"#{id}")!.ParentElement!;

    private static decimal Number(string text) =>
        decimal.Parse(text.Trim().Replace('\u2212', '-').Replace("+", "", StringComparison.Ordinal), CultureInfo.InvariantCulture);

    [Fact]
    public async Task Latest_season_is_the_same_under_both_addresses_with_one_canonical()
    {
        var (plain, numbered) = (await Read("/season"), await Read("/seasons/2026"));
        Assert.Equal(plain.Body!.TextContent, numbered.Body!.TextContent);
        Assert.Equal("/seasons/2026", new Uri(plain.QuerySelector("link[rel=canonical]")!.GetAttribute("href")!).AbsolutePath);
        Assert.Equal("/es/seasons/2026", new Uri((await Read("/es/season")).QuerySelector("link[rel=canonical]")!.GetAttribute("href")!).AbsolutePath);
    }

    [Theory]
    [InlineData("/seasons/1999")]
    [InlineData("/seasons/2027")]
    [InlineData("/seasons/last")]
    [InlineData("/seasons/-1")]
    public async Task Season_without_surveys_is_a_404(string address) => await Read(address, HttpStatusCode.NotFound);

    [Fact]
    public async Task Lead_counts_scores_and_the_moves_that_are_beyond_doubt()
    {
        string lead = (await Read("/season")).QuerySelector(".lead")!.TextContent.Replace('\u00A0', ' ');
        Assert.Contains("In 2026 we listened on 36 surveys at 12 stations in 10 wetlands. Of the 5 watersheds shown here, 4 have a score.", lead, StringComparison.Ordinal);
        // Only Otter Lake's range of −8.1 to −0.7 lies below no change.
        Assert.Contains("Since 2025 the score clearly fell in 1 watershed. For 3 more we can't tell yet.", lead, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Watersheds_stand_by_code_and_the_page_says_that_it_is_no_ranking()
    {
        var section = Section(await Read("/season"), "condition");
        Assert.Contains("no ranking", section.TextContent, StringComparison.Ordinal);
        var codes = section.QuerySelectorAll("tbody th .note").Select(code => code.TextContent).ToList();
        Assert.Equal(["99010001", "9901000101", "990100010101", "990100010102", "990100010201"], codes);
        Assert.Contains("\u22124.4 (\u22128.1 to \u22120.7)", section.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_row_of_a_change_adds_up_to_what_stands_at_its_end()
    {
        var tables = Section(await Read("/season"), "changed").QuerySelectorAll("table").ToList();
        Assert.Equal(2, tables.Count);
        foreach (var row in tables.SelectMany(table => table.QuerySelectorAll("tbody tr")))
        {
            var cells = row.QuerySelectorAll("td").Select(cell => Number(cell.TextContent)).ToList();
            // Four parts heard, stations and windows of the listening; −4.449 shown in tenths.
            Assert.Equal(7, cells.Count);
            Assert.Equal(-4.4m, cells[^1]);
            Assert.Equal(cells[^1], cells[..^1].Sum());
        }
        Assert.DoesNotContain("Observers", tables[0].TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Calling_of_a_species_adds_up_or_says_that_it_cannot_be_told_apart()
    {
        var rows = Section(await Read("/season"), "calling").QuerySelectorAll("tbody tr").ToDictionary(row => row.QuerySelector("th")!.TextContent, row => row.QuerySelectorAll("td").Select(cell => cell.TextContent.Replace('\u00A0', ' ')).ToList());
        // e^−0.5 = 0.60653: 39.3 % less, of which heard is −0.65 and the listening 0.15 of the log −0.5 (LMDI by hand).
        var wood = rows["Wood frog"];
        Assert.Equal(("\u221251.2", "+11.8", "\u221239.3"), (Shown(-39.347 * 1.3), Shown(39.347 * 0.3), wood[4]));
        Assert.Equal(Number(wood[4]), Number(wood[2]) + Number(wood[3]));
        // e^−0.65, e^−0.9, e^−0.4
        Assert.Equal("48 % less (33 to 59 % less)", wood[5]);
        Assert.Equal(["", "", "+22.1", "not told apart"], rows["Spring peeper"][2..]);
        Assert.Equal(["", "", "", "not told apart"], rows["Northern leopard frog"][2..]);
    }

    private static string Shown(double value) => Tenths.Text(Apportion.Tenth(value));

    [Fact]
    public async Task Needs_a_look_is_in_the_order_of_concern_with_reason_and_next_step()
    {
        var lines = Section(await Read("/season"), "look").QuerySelectorAll("ol li").Select(line => line.TextContent.Replace('\u00A0', ' ')).ToList();
        // Wood frog: chance 1 × 4.1 % × 0.6 (partly supported: 10 of 12 wetlands) = 2.46 in each of three watersheds; Otter Lake's
        // 5 − 1.3 = 3.7 stations gone quiet come first, Marl Creek's 1 − 1.2 not at all.
        Assert.Equal(4, lines.Count);
        Assert.StartsWith("In Otter Lake a species has gone quiet at a station 5 times. By chance alone we would list 1.3 on average, at most. Next: listen again", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("Wood frog in Marl Creek. Going down: about 4 % less each season (95 % range: 2 to 6 % less). Chance of a fall: more than 99 %. It is partly supported. Next: look at the wetlands", lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Listening_says_what_is_missed_and_what_is_under_the_target()
    {
        var section = Section(await Read("/season"), "listening");
        var cells = section.QuerySelector("tbody tr")!.QuerySelectorAll("td").Select(cell => cell.TextContent).ToList();
        Assert.Equal(["10, fewer than 12", "12", "36", "1 of 14", "0 of 4", "3 of 12"], cells);
    }

    [Fact]
    public async Task Earlier_season_has_scores_and_gaps_but_no_trends_and_leads_to_the_last_one()
    {
        var page = await Read("/seasons/2020");
        Assert.Null(page.QuerySelector("#look"));
        Assert.Null(page.QuerySelector("#changed"));
        Assert.Contains("taken apart for the last season", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("Since 2019", page.Body.TextContent, StringComparison.Ordinal);
        Assert.NotEmpty(page.QuerySelectorAll("a[href='/season']"));
    }

    [Fact]
    public async Task Spanish_page_speaks_spanish_and_keeps_its_links()
    {
        var page = await Read("/es/season");
        Assert.Contains("Temporada 2026", page.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
        Assert.All(page.QuerySelectorAll("main a[href^='/']:not([download])"), link => Assert.StartsWith("/es/", link.GetAttribute("href"), StringComparison.Ordinal));
    }

    [Fact]
    public async Task Link_of_the_page_leads_somewhere()
    {
        foreach (string link in (await Read("/season")).QuerySelectorAll("a[href^='/']").Select(link => link.GetAttribute("href")!).Distinct())
            Assert.Equal(HttpStatusCode.OK, (await _app.Client.GetAsync(new Uri(link, UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public void Concern_is_chance_times_size_times_weight()
    {
        var basis = InventedEdition.Reader().TrendList.First(trend => trend.Species == InventedEdition.Wood);
        SeriesEvidence Graded(Evidence grade) => new() { Area = basis.Area, Species = basis.Species, Grade = grade, Reasons = grade == Evidence.WellSupported ? EvidenceReason.None : EvidenceReason.Scattered, Seasons = 15 };
        var trend = basis with { PercentPerSeason = -5, ProbabilityOfDecline = 0.8 };
        Assert.Equal(4, ConcernRule.Of(trend, Graded(Evidence.WellSupported))!.Value, 1e-12);
        Assert.Equal(2.4, ConcernRule.Of(trend, Graded(Evidence.PartlySupported))!.Value, 1e-12);
        Assert.Equal(1.2, ConcernRule.Of(trend, Graded(Evidence.Thin))!.Value, 1e-12);
        Assert.Equal(1.2, ConcernRule.Of(trend, null)!.Value, 1e-12);
        Assert.Null(ConcernRule.Of(trend with { PercentPerSeason = 5 }, Graded(Evidence.WellSupported)));
        Assert.Null(ConcernRule.Of(trend with { PercentPerSeason = -0.6 }, Graded(Evidence.WellSupported)));
        Assert.Null(ConcernRule.Of(trend with { ProbabilityOfDecline = null }, Graded(Evidence.WellSupported)));
        Assert.Equal(NextStep.CheckHabitat, ConcernRule.Of(trend, Graded(Evidence.PartlySupported))!.Step);
        Assert.Equal(NextStep.AddWetlands, ConcernRule.Of(trend, null)!.Step);
        Assert.Equal(NextStep.RepeatSurveys, ConcernRule.Of(trend with { Direction = Direction.Unclear }, Graded(Evidence.PartlySupported))!.Step);
    }
}
