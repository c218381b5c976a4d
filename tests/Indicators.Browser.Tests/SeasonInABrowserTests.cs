using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;

namespace Indicators.Browser.Tests;

/// <summary>The manager's walk: the season, on screen and on paper, and the editions behind it.</summary>
public sealed partial class SeasonInABrowserTests(Chromium chromium)
{
    /// <summary>A report of a few pages.</summary>
    private const int MostPages = 6;

    [Theory]
    [InlineData("/season")]
    [InlineData("/es/season")]
    [InlineData("/seasons/2019")]
    [InlineData("/editions")]
    [InlineData("/editions/2/3")]
    [InlineData("/?edition=2")]
    public async Task Page_is_accessible_and_fits_by_day_and_night(string address)
    {
        await using var view = await chromium.Open(address, 320);
        foreach (int width in new[] { 320, 1280 })
        {
            await view.Page.SetViewportSizeAsync(width, 800);
            foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
            {
                await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
                string where = $"{address} at {width} px, {scheme}";
                int overflow = await view.Page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
                Assert.True(overflow <= 0, $"{where} scrolls sideways by {overflow} px.");
                var found = await view.Violations();
                Assert.True(found.Count == 0, $"{where}: {string.Join("; ", found)}");
            }
        }
        Assert.True(view.Troubles.Count == 0, $"{address}: {string.Join("; ", view.Troubles)}");
    }

    [Theory]
    [InlineData("/season")]
    [InlineData("/es/season")]
    public async Task Season_prints_as_a_report_of_a_few_pages(string address)
    {
        await using var view = await chromium.Open(address, 1280, scripts: false);
        byte[] paper = await view.Page.PdfAsync(new PagePdfOptions { PreferCSSPageSize = true, PrintBackground = true });
        string plain = Encoding.Latin1.GetString(paper);
        Assert.StartsWith("%PDF-", plain, StringComparison.Ordinal);
        int pages = PageOfPaper().Count(plain);
        Assert.InRange(pages, 2, MostPages);
        // A4 in points, 1/72 of an inch, as ISO 216 gives it in millimetres: 210 × 297.
        Assert.Matches(@"/MediaBox \[0 0 59[45](\.\d+)? 84[12](\.\d+)?\]", plain);
    }

    [Fact]
    public async Task Paper_has_the_tables_whole_and_nothing_to_click()
    {
        await using var view = await chromium.Open("/season", 700);
        await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        string text = await view.Page.EvaluateAsync<string>("document.body.innerText");
        foreach (string wanted in new[] { "Season 2026", "Otter Lake", "What changed, and why", "Needs a look", "Wood frog in Marl Creek", "Listening and gaps", "1 of 14" })
            Assert.Contains(wanted, text.Replace('\u00A0', ' '), StringComparison.Ordinal);
        Assert.DoesNotContain("Other seasons", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Change of each score, line by line", text, StringComparison.Ordinal);
        Assert.Equal(0, await view.Page.Locator(".top nav:visible").CountAsync());
        // 700 px is about the width of an A4 page's text: no table may reach beyond it.
        Assert.True(await view.Page.EvaluateAsync<bool>("[...document.querySelectorAll('table')].every(table => table.getBoundingClientRect().right <= document.documentElement.clientWidth + 1)"));
        Assert.Equal("table-header-group", await view.Page.EvaluateAsync<string>("getComputedStyle(document.querySelector('thead')).display"));
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task Watershed_on_paper_has_the_server_s_charts_by_day_and_no_table_behind_a_click(ColorScheme scheme)
    {
        await using var view = await chromium.Open("/watersheds/990100010101", 700, scheme);
        await Assertions.Expect(view.Page.Locator(".large canvas")).ToBeVisibleAsync();
        await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print, ColorScheme = scheme });
        await Assertions.Expect(view.Page.Locator(".large canvas")).ToBeHiddenAsync();
        await Assertions.Expect(view.Page.Locator(".large svg.chart-wide")).ToBeVisibleAsync();
        Assert.Equal(0, await view.Page.Locator("summary:visible").CountAsync());
        Assert.Equal("rgb(28, 37, 35)", await view.Page.EvaluateAsync<string>("getComputedStyle(document.body).color"));
        await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Screen });
        await Assertions.Expect(view.Page.Locator(".large canvas")).ToBeVisibleAsync();
        await Assertions.Expect(view.Page.Locator(".large svg.chart-wide")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task Map_of_the_season_is_looked_at_closer_by_keyboard_alone()
    {
        await using var view = await chromium.Open("/season", 360);
        var closer = view.Page.GetByRole(AriaRole.Button, new() { Name = "Closer" });
        await closer.FocusAsync();
        await view.Page.Keyboard.PressAsync("Enter");
        await view.Page.Keyboard.PressAsync("Space");
        await view.Drawn();
        Assert.True(await view.Page.Locator("svg.map").EvaluateAsync<double>("map => new DOMMatrix(getComputedStyle(map).transform).a") > 1.5);
        await view.Page.GetByRole(AriaRole.Button, new() { Name = "Move left" }).PressAsync("Enter");
        await view.Page.GetByRole(AriaRole.Button, new() { Name = "Whole map" }).PressAsync("Enter");
        await view.Drawn();
        Assert.Equal(1, await view.Page.Locator("svg.map").EvaluateAsync<double>("map => new DOMMatrix(getComputedStyle(map).transform).a"), 1e-6);
        Assert.Empty(view.Troubles);
    }

    [Fact]
    public async Task Manager_walks_from_the_start_page_to_the_season_a_watershed_and_the_editions()
    {
        await using var view = await chromium.Open("/", 360);
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Season", Exact = true }).ClickAsync();
        Assert.Equal("Season 2026", await view.Page.Locator("h1").InnerTextAsync());
        await view.Page.Locator("#look ~ ol a").First.ClickAsync();
        Assert.Equal("Otter Lake", await view.Page.Locator("h1").InnerTextAsync());
        await view.Page.GoBackAsync();
        await view.Page.Locator("footer").GetByRole(AriaRole.Link, new() { Name = "Editions" }).ClickAsync();
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Set beside edition 2" }).ClickAsync();
        Assert.Equal("Editions 2 and 3, side by side", await view.Page.Locator("h1").InnerTextAsync());
        await view.Page.GotoAsync(new Uri(new Uri(view.Page.Url), "/seasons/2026?edition=2").ToString());
        await view.Page.Locator(".earlier a").ClickAsync();
        Assert.EndsWith("/seasons/2026", view.Page.Url, StringComparison.Ordinal);
        Assert.Equal(0, await view.Page.Locator(".earlier").CountAsync());
    }

    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex PageOfPaper();
}
