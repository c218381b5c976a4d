using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.RegularExpressions;
using Indicators.Web.Serving;
using Indicators.Web.Tests.Invented;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using Xunit;

namespace Indicators.Web.Tests;

public sealed class ServingTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    private Task<HttpResponseMessage> Get(string address, string? encoding = null, string? ifNoneMatch = null)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, new Uri(_app.Address, address));
        if (encoding is not null) request.Headers.AcceptEncoding.Add(new StringWithQualityHeaderValue(encoding));
        if (ifNoneMatch is not null) request.Headers.TryAddWithoutValidation("If-None-Match", ifNoneMatch);
        return _app.Client.SendAsync(request, TestContext.Current.CancellationToken);
    }

    [Fact]
    public void Every_file_of_the_assets_folder_is_embedded_with_its_bytes()
    {
        var assets = new Assets();
        Assert.Equal(
            ["css/site.css", "figures/coverage-engine.svg", "figures/coverage-factors.es.svg", "figures/coverage-factors.svg", "figures/coverage-grid.es.svg", "figures/coverage-grid.svg", "figures/coverage-others.svg", "js/charts.js", "js/maps.js", "js/place.js", "lib/chart.js-LICENSE.md", "lib/chart.umd.min.js", "lib/manifest.json", "lib/panzoom-LICENSE.md", "lib/panzoom.min.js", "pond.svg"],
            assets.ByPath.Keys.Order(StringComparer.Ordinal));
        Assert.All(assets.ByPath.Values, asset => Assert.True(asset.Plain.Length > 200));
    }

    [Theory]
    [InlineData("css/site.css", "text/css")]
    [InlineData("js/charts.js", "text/javascript")]
    [InlineData("lib/chart.umd.min.js", "text/javascript")]
    [InlineData("pond.svg", "image/svg+xml")]
    public async Task File_arrives_whole_plain_and_compressed(string path, string type)
    {
        var asset = new Assets().Find(path)!;
        string url = new Assets().Url(path);
        var plain = await Get(url);
        Assert.Equal(HttpStatusCode.OK, plain.StatusCode);
        Assert.Equal(type, plain.Content.Headers.ContentType?.MediaType);
        Assert.Equal(asset.Plain, await plain.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal("public, max-age=31536000, immutable", plain.Headers.CacheControl?.ToString());

        var brotli = await Get(url, "br");
        Assert.Equal(["br"], brotli.Content.Headers.ContentEncoding);
        await using var stream = new BrotliStream(await brotli.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken), CompressionMode.Decompress);
        var unpacked = new MemoryStream();
        await stream.CopyToAsync(unpacked, TestContext.Current.CancellationToken);
        Assert.Equal(asset.Plain, unpacked.ToArray());
        Assert.NotEqual(plain.Headers.ETag, brotli.Headers.ETag);
        Assert.False(plain.Headers.ETag!.IsWeak);
    }

    [Fact]
    public async Task Known_file_is_not_sent_again()
    {
        string url = new Assets().Url("css/site.css");
        var first = await Get(url);
        var second = await Get(url, ifNoneMatch: first.Headers.ETag!.ToString());
        Assert.Equal(HttpStatusCode.NotModified, second.StatusCode);
        var stale = await Get("/assets/css/site.css?v=older");
        Assert.Equal("no-cache", stale.Headers.CacheControl?.ToString());
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/watersheds/990100010101")]
    [InlineData("/nowhere")]
    [InlineData("/assets/css/site.css")]
    [InlineData("/assets/nothing.css")]
    [InlineData("/downloads/trends.csv")]
    [InlineData("/downloads/nothing.csv")]
    public async Task Answer_carries_the_strict_headers(string address)
    {
        var headers = (await Get(address)).Headers;
        Assert.Equal(
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
            headers.GetValues("Content-Security-Policy").Single());
        Assert.Equal("nosniff", headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal("same-origin", headers.GetValues("Referrer-Policy").Single());
        Assert.Equal("same-origin", headers.GetValues("Cross-Origin-Opener-Policy").Single());
        Assert.Equal("camera=(), geolocation=(self), microphone=(), payment=(), usb=()", headers.GetValues("Permissions-Policy").Single());
        Assert.False(headers.Contains("Server"));
        Assert.False(headers.Contains("Set-Cookie"));
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/neighbourhood")]
    [InlineData("/neighbourhood/990100010101")]
    [InlineData("/w/w1")]
    [InlineData("/watersheds/99010001")]
    [InlineData("/species/RASY")]
    public async Task First_view_is_at_most_150_kilobytes_over_the_wire(string address)
    {
        var page = await Get(address, "br");
        Assert.Equal(["br"], page.Content.Headers.ContentEncoding);
        byte[] packed = await page.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        await using var stream = new BrotliStream(new MemoryStream(packed), CompressionMode.Decompress);
        using var reader = new StreamReader(stream);
        string html = await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
        // Everything the page asks for by itself, each counted as it is sent.
        var paths = Regex.Matches(html, "(?:src|href)=\"/assets/([^?\"]+)").Select(match => match.Groups[1].Value).Distinct().ToList();
        Assert.Contains("css/site.css", paths);
        long bytes = packed.Length + paths.Sum(path => (long)new Assets().Find(path)!.Brotli.Length);
        TestContext.Current.SendDiagnosticMessage($"{address}: {bytes} bytes");
        Assert.InRange(bytes, 5_000, 150_000);
    }

    [Fact]
    public async Task Download_is_the_export_of_the_command_line()
    {
        var csv = await Get("/downloads/trends.csv");
        string[] lines = (await csv.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).Split('\n');
        Assert.Equal("watershed_code,species_id,first_season,last_season,percent_per_season,lower,upper,direction,interval,clusters,stations,surveys,lower_underlying,upper_underlying,season_sd", lines[0]);
        Assert.Contains("990100010101,RASY,2012,2026,-4.1,-5.6,-2.8,down,observed_change,11,12,410,-6.2,-2.3,0.1", lines);
        Assert.Equal("trends-edition-3.csv", csv.Content.Headers.ContentDisposition?.FileName);
        var json = await Get("/downloads/condition.json", "br");
        Assert.Equal("application/json", json.Content.Headers.ContentType?.MediaType);
        Assert.Equal(["br"], json.Content.Headers.ContentEncoding);
    }

    [Fact]
    public void Vendored_scripts_are_the_ones_their_manifest_names()
    {
        var assets = new Assets();
        using var manifest = JsonDocument.Parse(assets.Find("lib/manifest.json")!.Plain);
        var entries = manifest.RootElement.EnumerateArray().ToDictionary(each => each.GetProperty("file").GetString()!);
        Assert.Equal(assets.ByPath.Keys.Where(path => path.StartsWith("lib/", StringComparison.Ordinal) && path.EndsWith(".js", StringComparison.Ordinal)).Select(path => path[4..]).Order(), entries.Keys.Order());
        foreach (var (file, entry) in entries)
        {
            byte[] bytes = assets.Find("lib/" + file)!.Plain;
            Assert.Equal(entry.GetProperty("bytes").GetInt32(), bytes.Length);
            Assert.Equal(entry.GetProperty("sha256").GetString(), Convert.ToHexStringLower(SHA256.HashData(bytes)));
            Assert.NotNull(assets.Find("lib/" + entry.GetProperty("licenceFile").GetString()));
        }
    }

    [Fact]
    public void Protection_keys_stay_in_memory()
    {
        using var app = WebHost.Build([], new InventedReader());
        Assert.IsType<KeysInMemory>(app.Services.GetRequiredService<IOptions<KeyManagementOptions>>().Value.XmlRepository);
    }
}
