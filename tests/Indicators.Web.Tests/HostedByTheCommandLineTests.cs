using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using AngleSharp.Html.Parser;
using Indicators.Storage;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>
/// The app as <c>indicators serve</c> hosts it: another project, unpublished, from a foreign working directory. There style
/// sheets once came back as 200 with no bytes.
/// </summary>
public sealed partial class HostedByTheCommandLineTests : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("indicators-web-");
    private readonly HttpClient _client = new();
    private Process? _process;

    public ValueTask InitializeAsync()
    {
        string path = Path.Combine(_folder.FullName, "empty.db");
        using (var database = Database.Open(path, DatabaseAccess.CreateOrWrite).Database!)
        {
            Assert.Equal(path, database.Path);
        }
        var start = new ProcessStartInfo(Environment.ProcessPath is { } own && Path.GetFileNameWithoutExtension(own) == "dotnet" ? own : "dotnet")
        {
            ArgumentList = { Path.Combine(AppContext.BaseDirectory, "indicators.dll"), "serve", "--db", path },
            WorkingDirectory = _folder.FullName,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            Environment = { ["ASPNETCORE_URLS"] = "http://127.0.0.1:0", ["HOME"] = _folder.FullName, ["ASPNETCORE_ENVIRONMENT"] = "Development" },
        };
        _process = Process.Start(start)!;
        return ValueTask.CompletedTask;
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        if (_process is { } process)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
            process.Dispose();
        }
        _folder.Delete(recursive: true);
    }

    [Fact]
    public async Task Style_sheet_has_its_bytes_and_nothing_is_written_at_home()
    {
        var cancel = TestContext.Current.CancellationToken;
        var address = await Address(cancel);
        string home = await _client.GetStringAsync(address, cancel);
        Assert.Contains("Nothing has been published yet", home, StringComparison.Ordinal);

        string css = new HtmlParser().ParseDocument(home).QuerySelector("link[rel=stylesheet]")!.GetAttribute("href")!;
        byte[] bytes = await _client.GetByteArrayAsync(new Uri(address, css), cancel);
        Assert.True(bytes.Length > 200, $"The style sheet has {bytes.Length} bytes.");
        Assert.Contains("--paper", System.Text.Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);

        var missing = await _client.GetAsync(new Uri(address, "/watersheds/none/at/all"), cancel);
        Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
        Assert.Contains("default-src 'none'", missing.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(_folder.FullName, ".aspnet")));
    }

    // The command says where it serves on standard error.
    private async Task<Uri> Address(CancellationToken cancel)
    {
        while (await _process!.StandardError.ReadLineAsync(cancel) is { } line)
        {
            if (ServedAt().Match(line) is { Success: true } match)
                return new Uri(match.Value);
        }
        throw new InvalidOperationException("The command ended without serving.");
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+")]
    private static partial Regex ServedAt();
}
