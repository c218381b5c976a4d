using Deque.AxeCore.Commons;
using Indicators.Browser.Tests;
using Indicators.Web.Tests.Invented;
using Microsoft.Playwright;
using Xunit;

[assembly: AssemblyFixture(typeof(Chromium))]

namespace Indicators.Browser.Tests;

/// <summary>The system's Chromium and the app over the invented edition, started once for all tests.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;
    private RunningApp _app = null!;

    public async ValueTask InitializeAsync()
    {
        _app = await RunningApp.Start();
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Find(),
            // What the browser does on its own account, and would take time from the tests.
            Args =
            [
                "--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync", "--disable-extensions",
            ],
        });
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
        await _app.DisposeAsync();
    }

    /// <summary>A page of the app in a window of its own.</summary>
    public async Task<View> Open(string address, int width, ColorScheme scheme = ColorScheme.Light, bool scripts = true, Geolocation? at = null)
    {
        var context = await _browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 800 },
            ColorScheme = scheme,
            ReducedMotion = ReducedMotion.Reduce,
            JavaScriptEnabled = scripts,
            Geolocation = at,
            Permissions = at is null ? [] : ["geolocation"],
        });
        var page = await context.NewPageAsync();
        var view = new View(context, page);
        await page.GotoAsync(new Uri(_app.Address, address).ToString(), new PageGotoOptions { WaitUntil = WaitUntilState.Load });
        return view;
    }

    /// <summary>The browser that ./test found, or the first on the PATH.</summary>
    private static string Find() =>
        Environment.GetEnvironmentVariable("INDICATORS_CHROMIUM") is { Length: > 0 } named && File.Exists(named) ? named
        : (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .SelectMany(folder => Names.Select(name => Path.Combine(folder, name)))
            .FirstOrDefault(File.Exists)
        ?? throw new InvalidOperationException("No Chromium on the PATH: install the system's chromium package, or give its path in INDICATORS_CHROMIUM.");
}

/// <summary>One open page, with everything that went wrong in it.</summary>
public sealed class View : IAsyncDisposable
{
    private readonly IBrowserContext _context;
    private readonly List<string> _troubles = [];

    internal View(IBrowserContext context, IPage page)
    {
        _context = context;
        Page = page;
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning") _troubles.Add(message.Text);
        };
        page.PageError += (_, error) => _troubles.Add(error);
        page.RequestFailed += (_, request) => _troubles.Add($"failed: {request.Url}");
        page.Response += (_, response) =>
        {
            if (!response.Ok) _troubles.Add($"{response.Status}: {response.Url}");
        };
        page.Request += (_, request) =>
        {
            Requests.Add(new Uri(request.Url));
            if (request.PostData is { } body) Bodies.Add(body);
        };
    }

    public IPage Page { get; }

    /// <summary>Waits until the browser has drawn twice, so that what a script or a style changed is on the screen.</summary>
    public Task Drawn() => Page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))");

    /// <summary>Errors and warnings of the console, failed and refused requests.</summary>
    public IReadOnlyList<string> Troubles => _troubles;

    public ICollection<Uri> Requests { get; } = [];

    /// <summary>What requests carried besides their addresses.</summary>
    public ICollection<string> Bodies { get; } = [];

    /// <summary>
    /// What axe finds wrong with the page as it stands, one line each; nothing where all is well. The script goes into the page once and runs
    /// there: the package's own runner opens another page for every run, which took four times as long over all pages. The size of what is
    /// pressed (WCAG 2.2, 2.5.8) is a rule that axe leaves off unless asked.
    /// </summary>
    public async Task<IReadOnlyList<string>> Violations()
    {
        if (!await Page.EvaluateAsync<bool>("() => typeof axe === 'object'")) await Page.EvaluateAsync(Axe);
        return await Page.EvaluateAsync<string[]>(
            """
            () => axe.run(document, { resultTypes: ['violations'], rules: { 'target-size': { enabled: true } } })
              .then(found => found.violations.map(each => `${each.id} at ${each.nodes[0].target}: ${each.help}`))
            """);
    }

    public ValueTask DisposeAsync() => _context.DisposeAsync();

    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();
}
