using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;

namespace Indicators.Browser.Tests;

public sealed class NeighbourhoodInABrowserTests(Chromium chromium)
{
    // Inside the invented Marl Creek, inside Otter Lake, and far from both.
    private static readonly Geolocation InMarl = new() { Latitude = 45.2034f, Longitude = -90.2871f };
    private static readonly Geolocation Elsewhere = new() { Latitude = 12.3456f, Longitude = 34.5678f };

    private static Regex Ending(string address) => new(Regex.Escape(address) + "$");

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Neighbour_finds_a_place_by_name_with_and_without_scripts_at_phone_width(bool scripts)
    {
        await using var view = await chromium.Open("/", 360, scripts: scripts);
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Your neighbourhood" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/neighbourhood"));
        if (scripts)
            await view.Page.WaitForFunctionAsync("document.readyState === 'complete'");
        await view.Page.GetByLabel("Name of a pond, lake, creek or watershed").FillAsync("heron");
        await view.Page.GetByRole(AriaRole.Button, new() { Name = "Find", Exact = true }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/neighbourhood?q=heron"));
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Heron Slough, landing" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/neighbourhood/990100010101"));
        await Assertions.Expect(view.Page.Locator(".lead")).ToContainTextAsync("Marl Creek was between fair and good, and its calling is going down.");
        await Assertions.Expect(view.Page.Locator("#month")).ToHaveTextAsync("What calls in May");
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Heron Slough" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/w/w1"));
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "A sign to print for this wetland" }).ClickAsync();
        await Assertions.Expect(view.Page.Locator("svg.qr")).ToBeVisibleAsync();
        Assert.Empty(view.Troubles);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Neighbour_who_reads_Spanish_stays_in_Spanish_from_the_start_to_the_sign(bool scripts)
    {
        await using var view = await chromium.Open("/", 360, scripts: scripts);
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Español" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/es"));
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Su vecindario" }).ClickAsync();
        await view.Page.Locator("input[name=q]").FillAsync("heron");
        await view.Page.GetByRole(AriaRole.Button, new() { Name = "Buscar", Exact = true }).ClickAsync();
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Heron Slough, landing" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/es/neighbourhood/990100010101"));
        Assert.Equal("es", await view.Page.Locator("html").GetAttributeAsync("lang"));
        await Assertions.Expect(view.Page.Locator("#month")).ToContainTextAsync("mayo");
        await view.Page.GetByRole(AriaRole.Link, new() { Name = "Heron Slough", Exact = true }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/es/w/w1"));
        await view.Page.Locator("a[href$='/sign']").ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/es/w/w1/sign"));
        await Assertions.Expect(view.Page.Locator("svg.qr")).ToBeVisibleAsync();
        Assert.Empty(view.Troubles);
    }

    [Fact]
    public async Task Without_scripts_there_is_no_button_that_does_nothing()
    {
        await using var view = await chromium.Open("/neighbourhood", 360, scripts: false);
        Assert.False(await view.Page.Locator(".position").IsVisibleAsync());
        Assert.False(await view.Page.Locator(".map-tools").IsVisibleAsync());
        await view.Page.Locator(".map a").First.ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/neighbourhood/990100010101"));
    }

    [Fact]
    public async Task Position_finds_the_watershed_and_is_never_sent()
    {
        await using var view = await chromium.Open("/neighbourhood", 360, at: InMarl);
        await view.Page.GetByRole(AriaRole.Button, new() { Name = "Use where I am" }).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/neighbourhood/990100010101"));
        Assert.Contains(view.Requests, request => request.AbsolutePath == "/shapes.json");
        Assert.All(view.Requests, request =>
        {
            Assert.Equal("127.0.0.1", request.Host);
            Assert.DoesNotContain("45.2", request.PathAndQuery, StringComparison.Ordinal);
            Assert.DoesNotContain("90.28", request.PathAndQuery, StringComparison.Ordinal);
        });
        Assert.Empty(view.Bodies);
        Assert.Empty(view.Troubles);
    }

    [Fact]
    public async Task Position_outside_and_a_browser_that_does_not_tell_are_said()
    {
        await using var outside = await chromium.Open("/neighbourhood", 360, at: Elsewhere);
        await outside.Page.Locator(".position button").ClickAsync();
        await Assertions.Expect(outside.Page.Locator(".position [role=status]")).ToHaveTextAsync("You are outside our watersheds. Please pick one from the list.");
        await using var refused = await chromium.Open("/neighbourhood", 360);
        await refused.Page.Locator(".position button").ClickAsync();
        await Assertions.Expect(refused.Page.Locator(".position [role=status]")).ToHaveTextAsync("Your browser did not say where you are. Please type a name.");
    }

    [Fact]
    public async Task Map_is_looked_at_closer_by_button_by_drag_and_by_keyboard()
    {
        await using var view = await chromium.Open("/", 1280);
        var map = view.Page.Locator("svg.map");
        Task<double> Scale() => map.EvaluateAsync<double>("map => new DOMMatrix(getComputedStyle(map).transform).a");
        Task<double> Left() => map.EvaluateAsync<double>("map => map.getBoundingClientRect().left");
        async Task Press(string name)
        {
            await view.Page.GetByRole(AriaRole.Button, new() { Name = name }).ClickAsync();
            await view.Drawn();
        }

        Assert.Equal("true", await view.Page.GetByRole(AriaRole.Button, new() { Name = "Farther" }).GetAttributeAsync("aria-disabled"));
        Assert.Equal("auto", await map.EvaluateAsync<string>("map => map.style.touchAction"));
        await Press("Closer");
        await Press("Closer");
        Assert.InRange(await Scale(), 2.5, 3);
        double before = await Left();
        await Press("Move left");
        Assert.True(await Left() > before + 20);

        // A drag moves the map and opens nothing.
        await view.Page.Locator(".map-view").EvaluateAsync("view => view.scrollIntoView({ block: 'center', behavior: 'instant' })");
        var box = (await view.Page.Locator(".map-view").BoundingBoxAsync())!;
        before = await Left();
        await view.Page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await view.Page.Mouse.DownAsync();
        await view.Page.Mouse.MoveAsync(box.X + (box.Width / 2) - 80, box.Y + (box.Height / 2), new() { Steps = 5 });
        await view.Page.Mouse.UpAsync();
        await view.Drawn();
        Assert.True(await Left() < before - 40);
        Assert.Equal("/", new Uri(view.Page.Url).AbsolutePath);

        // What the keyboard comes to is brought into view.
        foreach (int place in new[] { 0, 1 })
        {
            await view.Page.Locator(".map a").Nth(place).FocusAsync();
            await view.Drawn();
            Assert.True(await view.Page.Locator(".map a .area-number").Nth(place).EvaluateAsync<bool>(
                """
                number => {
                  const at = number.getBoundingClientRect(), view = number.closest('.map-view').getBoundingClientRect();
                  const x = at.left + at.width / 2, y = at.top + at.height / 2;
                  return x > view.left && x < view.right && y > view.top && y < view.bottom;
                }
                """), $"link {place} is out of view");
        }
        await Press("Whole map");
        Assert.Equal(1, await Scale(), 1e-6);
        await view.Page.Locator(".map a").Nth(1).ClickAsync();
        await Assertions.Expect(view.Page).ToHaveURLAsync(Ending("/watersheds/990100010102"));
        Assert.Empty(view.Troubles);
    }

    [Fact]
    public async Task Sign_is_one_page_on_paper_with_the_code_and_without_the_menu()
    {
        await using var view = await chromium.Open("/w/w1/sign", 1280, ColorScheme.Dark);
        await view.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        Assert.True(await view.Page.Locator("svg.qr").IsVisibleAsync());
        Assert.False(await view.Page.Locator(".top").IsVisibleAsync());
        Assert.False(await view.Page.Locator("footer").IsVisibleAsync());
        Assert.Equal(0, await view.Page.Locator(".not-printed:visible").CountAsync());
        // Dark on light by night too, or no camera reads it.
        Assert.Equal("rgb(0, 0, 0)", await view.Page.Locator(".qr-ink").EvaluateAsync<string>("ink => getComputedStyle(ink).fill"));
        Assert.Equal("rgb(255, 255, 255)", await view.Page.Locator(".qr-ground").EvaluateAsync<string>("ground => getComputedStyle(ground).fill"));
        byte[] pdf = await view.Page.PdfAsync(new PagePdfOptions { Format = "A4" });
        Assert.Contains("/Count 1", System.Text.Encoding.Latin1.GetString(pdf), StringComparison.Ordinal);
    }
}
