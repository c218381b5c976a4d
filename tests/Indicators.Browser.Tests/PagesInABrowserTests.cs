using Microsoft.Playwright;
using Xunit;

namespace Indicators.Browser.Tests;

public sealed class PagesInABrowserTests(Chromium chromium)
{
    private static readonly int[] Widths = [320, 360, 1280];
    private static readonly ColorScheme[] Schemes = [ColorScheme.Light, ColorScheme.Dark];

    /// <summary>Words of visible pictures that reach out of them.</summary>
    private const string CutWords = """
        [...document.querySelectorAll('svg text')].filter(text => {
            const inside = text.getBoundingClientRect(), all = text.ownerSVGElement.getBoundingClientRect();
            return inside.width > 0 && all.width > 0
                && (inside.left < all.left - 1 || inside.right > all.right + 1 || inside.top < all.top - 1 || inside.bottom > all.bottom + 1);
        }).map(text => text.textContent)
        """;

    public static TheoryData<string> Pages =>
    [
        "/", "/watersheds/99010001", "/watersheds/990100010101", "/watersheds/990100010201",
        "/species", "/species/RASY", "/species/ACBL", "/methods", "/cautions",
        "/neighbourhood", "/neighbourhood?q=heron", "/neighbourhood?q=zzz", "/neighbourhood/990100010101", "/w/w1", "/w/w2", "/w/w1/sign", "/es/neighbourhood/990100010101", "/es/w/w1",
        "/es", "/es/watersheds/990100010101", "/es/species", "/es/species/RASY", "/es/methods", "/es/cautions",
        "/es/neighbourhood?q=heron", "/es/w/w1/sign", "/es/editions", "/es/editions/2/3", "/es/seasons/2019", "/watersheds/990100010101?edition=2", "/species/RASY?edition=2",
    ];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Page_is_accessible_fits_and_has_no_trouble_at_every_width_by_day_and_night(string address)
    {
        await using var view = await chromium.Open(address, Widths[0]);
        // Tables behind a click are part of the page.
        await view.Page.EvaluateAsync("document.querySelectorAll('details').forEach(each => each.open = true)");
        foreach (int width in Widths)
        {
            await view.Page.SetViewportSizeAsync(width, 800);
            foreach (var scheme in Schemes)
            {
                await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
                string where = $"{address} at {width} px, {scheme}";
                int overflow = await view.Page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
                Assert.True(overflow <= 0, $"{where} scrolls sideways by {overflow} px.");
                string[] cut = await view.Page.EvaluateAsync<string[]>(CutWords);
                Assert.True(cut.Length == 0, $"{where} cuts off words of its pictures: {string.Join("; ", cut)}");
                var found = await view.Violations();
                Assert.True(found.Count == 0, $"{where}: {string.Join("; ", found)}");
            }
        }
        Assert.True(view.Troubles.Count == 0, $"{address}: {string.Join("; ", view.Troubles)}");
        Assert.All(view.Requests, request => Assert.Equal("127.0.0.1", request.Host));
    }

    [Theory]
    [InlineData("/nothing")]
    [InlineData("/es/watersheds/990199")]
    [InlineData("/?edition=77")]
    public async Task Address_that_leads_nowhere_has_a_page_as_good_as_the_others(string address)
    {
        await using var view = await chromium.Open(address, Widths[0]);
        foreach (var scheme in Schemes)
        {
            await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
            Assert.Equal(0, await view.Page.EvaluateAsync<int>("Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth)"));
            Assert.Empty(await view.Violations());
        }
        Assert.True(await view.Page.Locator("main a").First.IsVisibleAsync());
    }

    [Theory]
    [InlineData("/watersheds/990100010101")]
    [InlineData("/species/RASY")]
    public async Task Page_without_scripts_has_its_charts_and_tables(string address)
    {
        await using var view = await chromium.Open(address, 360, scripts: false);
        Assert.True(await view.Page.Locator(".large svg.chart-narrow").First.IsVisibleAsync());
        Assert.False(await view.Page.Locator(".large svg.chart-wide").First.IsVisibleAsync());
        Assert.True(await view.Page.Locator(".card svg[role=img]").CountAsync() > 2);
        await view.Page.Locator("summary").First.ClickAsync();
        Assert.True(await view.Page.Locator("details table").First.IsVisibleAsync());
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task Script_draws_the_large_chart_without_moving_the_page(int width)
    {
        await using var plain = await chromium.Open("/watersheds/990100010101", width, scripts: false);
        await using var view = await chromium.Open("/watersheds/990100010101", width);
        Assert.True(await view.Page.Locator(".large canvas").IsVisibleAsync());
        Assert.Equal(
            await plain.Page.Locator("#each").EvaluateAsync<double>("each => each.getBoundingClientRect().top"),
            await view.Page.Locator("#each").EvaluateAsync<double>("each => each.getBoundingClientRect().top"),
            1.0);
        // Something of the line's own colour is on the canvas.
        Assert.True(await view.Page.Locator(".large canvas").EvaluateAsync<bool>(
            "canvas => canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data.some((value, place, all) => place % 4 === 0 && value === 19 && all[place + 1] === 78 && all[place + 2] === 94)"));
    }

    [Fact]
    public async Task Chart_is_drawn_anew_when_night_falls()
    {
        await using var view = await chromium.Open("/species/RASY", 1280);
        await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = ColorScheme.Dark });
        await view.Page.WaitForFunctionAsync("document.querySelectorAll('.large canvas').length === 2");
        Assert.True(await view.Page.Locator(".large canvas").First.EvaluateAsync<bool>(
            "canvas => canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data.some((value, place, all) => place % 4 === 0 && value === 143 && all[place + 1] === 199 && all[place + 2] === 209)"));
    }

    [Fact]
    public async Task First_tab_leads_to_the_content()
    {
        await using var view = await chromium.Open("/", 1280);
        await view.Page.Keyboard.PressAsync("Tab");
        Assert.Equal("Skip to the content", await view.Page.EvaluateAsync<string>("document.activeElement.textContent"));
        Assert.True(await view.Page.Locator(".skip").EvaluateAsync<bool>("link => link.getBoundingClientRect().top >= 0"));
        await view.Page.Keyboard.PressAsync("Enter");
        Assert.Equal("main", await view.Page.EvaluateAsync<string>("document.activeElement.id"));
    }

    [Theory]
    [InlineData("/", 1280)]
    [InlineData("/season", 360)]
    [InlineData("/watersheds/990100010101", 360)]
    [InlineData("/species/RASY", 360)]
    [InlineData("/neighbourhood?q=heron", 360)]
    [InlineData("/es/neighbourhood/990100010101", 360)]
    [InlineData("/w/w1", 360)]
    [InlineData("/editions/2/3", 360)]
    public async Task Every_link_and_table_can_be_reached_and_seen_with_the_keyboard(string address, int width)
    {
        await using var view = await chromium.Open(address, width);
        await view.Page.WaitForFunctionAsync("document.readyState === 'complete'");
        int wanted = await view.Page.EvaluateAsync<int>(
            "[...document.querySelectorAll('a[href], [tabindex=\"0\"], summary, button, input')].filter(each => each.checkVisibility({ visibilityProperty: true })).length");
        var reached = new HashSet<string>();
        for (int press = 0; press < wanted + 5; press++)
        {
            await view.Page.Keyboard.PressAsync("Tab");
            string state = await view.Page.EvaluateAsync<string>(
                """
                (() => {
                  const at = document.activeElement;
                  if (at === document.body) return '';
                  const area = at.querySelector('.area');
                  const seen = getComputedStyle(at).outlineStyle !== 'none' || (area !== null && parseFloat(getComputedStyle(area).strokeWidth) >= 5);
                  at.dataset.place ??= String(Math.random());
                  return seen ? at.dataset.place : 'unseen: ' + at.outerHTML.slice(0, 80);
                })()
                """);
            Assert.False(state.StartsWith("unseen", StringComparison.Ordinal), state);
            if (state.Length > 0) reached.Add(state);
        }
        Assert.Equal(wanted, reached.Count);
    }

    [Fact]
    public async Task Style_sheet_is_loaded_and_applied()
    {
        await using var view = await chromium.Open("/", 1280);
        Assert.Equal("rgb(251, 249, 244)", await view.Page.EvaluateAsync<string>("getComputedStyle(document.body).backgroundColor"));
        Assert.True(await view.Page.EvaluateAsync<int>("fetch(document.querySelector('link[rel=stylesheet]').href).then(answer => answer.text()).then(text => text.length)") > 200);
    }
}
