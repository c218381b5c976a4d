using System.Diagnostics;
using System.IO.Compression;
using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Web.Tests.Leaking;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>The demo as <c>indicators demo</c> makes, analyses, publishes and serves it, in a folder of its own.</summary>
public sealed partial class DemoApp : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("indicators-demo-");
    private readonly HttpClient _client = new();
    private Process _process = null!;
    private Uri _address = null!;
    private bool _hasAnother;

    public async ValueTask InitializeAsync()
    {
        _process = Begin("demo");
        while (await _process.StandardError.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
        {
            if (ServedAt().Match(line) is not { Success: true } match)
                continue;
            _address = new Uri(match.Value);
            return;
        }
        throw new InvalidOperationException("The demo ended without serving.");
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
        _process.Dispose();
        _folder.Delete(recursive: true);
    }

    /// <summary>
    /// Analyses the demo once more, with fewer resamples and another seed, and publishes it beside what is served. From then on
    /// the first edition is an earlier one. Nothing happens the second time.
    /// </summary>
    internal async Task PublishAnother()
    {
        if (_hasAnother)
            return;
        string file = Path.Combine(_folder.FullName, "demo.db");
        await Run("analyse", "--db", file, "--seed", "2", "--resamples", "200", "--threads", "1");
        await Run("publish", "--db", file);
        // An edition is shown a second after it was published.
        while (!(await Read("/editions")).Contains("/editions/1/2", StringComparison.Ordinal))
            await Task.Delay(100, TestContext.Current.CancellationToken);
        _hasAnother = true;
    }

    private async Task Run(params string[] words)
    {
        using var process = Begin(words);
        string said = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode == 0, said);
    }

    private Process Begin(params string[] words)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath is { } own && Path.GetFileNameWithoutExtension(own) == "dotnet" ? own : "dotnet")
        {
            WorkingDirectory = _folder.FullName,
            RedirectStandardError = true,
            Environment = { ["ASPNETCORE_URLS"] = "http://127.0.0.1:0", ["INDICATORS_DATA"] = _folder.FullName, ["HOME"] = _folder.FullName },
        };
        foreach (string word in words.Prepend(Path.Combine(AppContext.BaseDirectory, "indicators.dll")))
            start.ArgumentList.Add(word);
        return Process.Start(start)!;
    }

    /// <summary>What stands at an address.</summary>
    internal async Task<string> Read(string address)
    {
        using var response = await _client.GetAsync(new Uri(_address, address), TestContext.Current.CancellationToken);
        response.EnsureSuccessStatusCode();
        return await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>Everything that links, feeds and lists of pages lead to, and what guesses find.</summary>
    internal Task<List<Found>> Everything(IEnumerable<string> starts, IEnumerable<string> guesses) => Crawler.Everything(_client, _address, starts, guesses);

    /// <summary>How many bytes an address sends to a browser, and what they are once unpacked.</summary>
    internal async Task<(int Sent, string Text)> Send(string address)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(_address, address));
        request.Headers.AcceptEncoding.ParseAdd("gzip, deflate, br");
        using var response = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        response.EnsureSuccessStatusCode();
        byte[] sent = await response.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        if (!response.Content.Headers.ContentEncoding.Contains("br"))
            return (sent.Length, System.Text.Encoding.UTF8.GetString(sent));
        await using var stream = new BrotliStream(new MemoryStream(sent), CompressionMode.Decompress);
        using var reader = new StreamReader(stream);
        return (sent.Length, await reader.ReadToEndAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>Every page that links lead to from an address, in its language.</summary>
    internal async Task<Dictionary<string, IHtmlDocument>> Crawl(string start)
    {
        var found = new Dictionary<string, IHtmlDocument>();
        var seen = new HashSet<string> { start };
        var waiting = new Queue<string>(seen);
        while (waiting.TryDequeue(out string? address))
        {
            using var response = await _client.GetAsync(new Uri(_address, address), TestContext.Current.CancellationToken);
            response.EnsureSuccessStatusCode();
            if (response.Content.Headers.ContentType?.MediaType != "text/html")
                continue;
            var page = found[address] = new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
            var links = page.QuerySelectorAll("a[href^='/']:not([hreflang]):not([download])").Select(link => link.GetAttribute("href")!.Split('#')[0]);
            foreach (string link in links.Where(seen.Add))
                waiting.Enqueue(link);
        }
        return found;
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+")]
    private static partial Regex ServedAt();
}
