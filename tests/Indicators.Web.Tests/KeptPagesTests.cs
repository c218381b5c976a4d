using System.IO.Compression;
using System.Net;
using System.Text;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using Indicators.Web.Serving;
using Indicators.Web.Tests.Invented;
using NodaTime;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Pages are made once for an edition, packed once, and not sent again to who has them (RFC 9110, 8.8.3 and 13.1.2; RFC 9111).</summary>
public sealed class KeptPagesTests
{
    private const string Watershed = "/watersheds/990100010101";

    private static readonly string[] AllPages =
    [
        "/", "/es", Watershed, "/watersheds/99010001", "/species", "/species/RASY", "/es/species/ACBL", "/methods", "/cautions", "/w/w1", "/w/w1/sign",
        "/editions.atom", "/sitemap.xml", "/robots.txt", "/shapes.json", "/watersheds/990100010101/calling.ics", "/?edition=2", "/species/RASY?edition=2", "/season", "/es/seasons/2026", "/editions", "/editions/2/3",
    ];

    private static async Task<HttpResponseMessage> Get(RunningApp app, string address, string? encoding = null, string? has = null, HttpMethod? method = null)
    {
        using var request = new HttpRequestMessage(method ?? HttpMethod.Get, new Uri(app.Address, address));
        if (encoding is not null) request.Headers.TryAddWithoutValidation("Accept-Encoding", encoding);
        if (has is not null) request.Headers.TryAddWithoutValidation("If-None-Match", has);
        return await app.Client.SendAsync(request, TestContext.Current.CancellationToken);
    }

    private static async Task<byte[]> Bytes(HttpResponseMessage response)
    {
        byte[] sent = await response.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        Assert.Equal(sent.Length, response.Content.Headers.ContentLength);
        var plain = new MemoryStream();
        Stream stream = string.Concat(response.Content.Headers.ContentEncoding) switch
        {
            "br" => new BrotliStream(new MemoryStream(sent), CompressionMode.Decompress),
            "gzip" => new GZipStream(new MemoryStream(sent), CompressionMode.Decompress),
            _ => new MemoryStream(sent),
        };
        await using (stream)
            await stream.CopyToAsync(plain, TestContext.Current.CancellationToken);
        return plain.ToArray();
    }

    [Fact]
    public async Task Page_asked_for_again_comes_from_the_shelf_with_the_same_bytes()
    {
        var (reader, control) = ChangingReader.Before(InventedEdition.Reader());
        await using var app = await RunningApp.Start(reader);
        foreach (string address in AllPages)
        {
            byte[] first = await Bytes(await Get(app, address, "br"));
            int questions = control.Questions;
            var again = await Get(app, address, "br");
            Assert.Equal(first, await Bytes(again));
            Assert.Equal(questions, control.Questions);
            Assert.False(again.Headers.ETag!.IsWeak);
            Assert.Equal(["Accept-Encoding"], again.Headers.Vary);
            Assert.Equal("same-origin", again.Headers.GetValues("Cross-Origin-Resource-Policy").Single());
        }
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/watersheds/99010001")]
    [InlineData("/es/watersheds/99010001")]
    [InlineData("/watersheds/990100010201")]
    [InlineData("/neighbourhood/990100010101")]
    [InlineData("/species/ACBL")]
    [InlineData("/w/w1/sign")]
    [InlineData("/season")]
    [InlineData("/editions/2/3")]
    [InlineData("/editions.atom")]
    public async Task Page_of_every_kind_is_at_hand_for_the_first_reader_after_the_app_warmed_up(string address)
    {
        var (reader, control) = ChangingReader.Before(InventedEdition.Reader());
        await using var app = await RunningApp.Start(reader);
        await app.WarmUp();
        int questions = control.Questions;
        await Bytes(await Get(app, address, "br"));
        Assert.Equal(questions, control.Questions);
    }

    [Fact]
    public async Task App_with_nothing_published_has_nothing_to_warm_up()
    {
        await using var app = await RunningApp.Start(new InventedReader());
        await app.WarmUp();
        Assert.Equal(HttpStatusCode.OK, (await Get(app, "/")).StatusCode);
    }

    [Fact]
    public async Task Every_packing_has_its_own_tag_and_the_same_page_in_it()
    {
        await using var app = await RunningApp.Start();
        string[] asked = ["", "br", "gzip", "gzip, deflate, br, zstd", "br;q=0, gzip;q=0.5", "zstd", "br;q=0"];
        string[] expected = ["", "br", "gzip", "br", "gzip", "", ""];
        byte[] plain = await Bytes(await Get(app, Watershed));
        var tags = new List<(string Encoding, string Tag)>();
        foreach (var (ask, expect) in asked.Zip(expected))
        {
            var answer = await Get(app, Watershed, ask);
            Assert.Equal(expect, string.Concat(answer.Content.Headers.ContentEncoding));
            Assert.Equal(plain, await Bytes(answer));
            tags.Add((expect, answer.Headers.ETag!.Tag));
        }
        Assert.Equal(3, tags.Distinct().Count());
        Assert.Equal(3, tags.Select(each => each.Tag).Distinct().Count());
    }

    [Fact]
    public async Task Who_has_the_page_is_told_so_before_anything_is_made()
    {
        string etag;
        await using (var before = await RunningApp.Start())
            etag = (await Get(before, Watershed, "br")).Headers.ETag!.Tag;
        // Another process, as after a restart: nothing is kept yet.
        var (reader, control) = ChangingReader.Before(InventedEdition.Reader());
        await using var app = await RunningApp.Start(reader);
        foreach (string has in new[] { etag, $"W/{etag}", $"\"other\", {etag}" })
        {
            var answer = await Get(app, Watershed, "br", has);
            Assert.Equal(HttpStatusCode.NotModified, answer.StatusCode);
            Assert.Equal(etag, answer.Headers.ETag!.Tag);
            Assert.Empty(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
            Assert.True(answer.Headers.Contains("Content-Security-Policy"));
        }
        Assert.Equal(0, control.Questions);
        Assert.Equal(HttpStatusCode.OK, (await Get(app, Watershed, "gzip", etag)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await Get(app, Watershed, "br", "\"other\"")).StatusCode);
    }

    [Fact]
    public async Task New_edition_takes_the_place_of_the_old_within_a_second()
    {
        var today = InventedEdition.Reader();
        var (reader, control) = ChangingReader.Before(today);
        await using var app = await RunningApp.Start(reader);
        var before = await Get(app, Watershed, "br");
        control.Behind = today with
        {
            Header = today.Header! with { Number = 4, PublishedAt = today.Header.PublishedAt!.Value.Plus(Duration.FromDays(1)) },
            EarlierHeaders = [today.Header with { State = EditionState.Earlier }, .. today.EarlierHeaders],
        };
        await Task.Delay(TodaysEdition.Trusted + TimeSpan.FromMilliseconds(50), TestContext.Current.CancellationToken);
        var after = await Get(app, Watershed, "br", before.Headers.ETag!.Tag);
        Assert.Equal(HttpStatusCode.OK, after.StatusCode);
        Assert.Contains("Edition 4", Encoding.UTF8.GetString(await Bytes(after)), StringComparison.Ordinal);
        Assert.Contains("Go to today's edition, number 4", WebUtility.HtmlDecode(Encoding.UTF8.GetString(await Bytes(await Get(app, Watershed + "?edition=3")))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Database_is_asked_for_its_edition_once_a_second_at_most()
    {
        var (reader, control) = ChangingReader.Before(InventedEdition.Reader());
        await using var app = await RunningApp.Start(reader);
        await Get(app, Watershed);
        int looks = control.Looks;
        long start = TimeProvider.System.GetTimestamp();
        for (int turn = 0; turn < 50; turn++)
            await Get(app, Watershed);
        Assert.InRange(control.Looks - looks, 0, 1 + (int)TimeProvider.System.GetElapsedTime(start).TotalSeconds);
    }

    [Fact]
    public async Task Head_says_what_get_would_and_sends_nothing()
    {
        await using var app = await RunningApp.Start();
        foreach (string address in new[] { Watershed, "/editions.atom", "/downloads/trends.csv" })
        {
            for (int turn = 0; turn < 2; turn++)
            {
                var head = await Get(app, address, "br", method: HttpMethod.Head);
                var get = await Get(app, address, "br");
                Assert.Equal(HttpStatusCode.OK, head.StatusCode);
                Assert.Equal(get.Headers.ETag, head.Headers.ETag);
                Assert.Equal(get.Content.Headers.ContentType, head.Content.Headers.ContentType);
                Assert.Empty(await head.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
                if (!address.StartsWith("/downloads", StringComparison.Ordinal))
                    Assert.Equal(get.Content.Headers.ContentLength, head.Content.Headers.ContentLength);
            }
        }
    }

    [Theory]
    [InlineData("/?x=1")]
    [InlineData("/neighbourhood?q=heron")]
    [InlineData("/neighbourhood?code=990100010101")]
    [InlineData("/?edition=2&edition=2")]
    [InlineData("/?edition=2&x=1")]
    [InlineData("/nowhere")]
    [InlineData("/watersheds/990100010199")]
    [InlineData("/problem")]
    public async Task Address_with_other_words_or_of_nothing_is_not_kept(string address)
    {
        await using var app = await RunningApp.Start();
        string plain = Encoding.UTF8.GetString(await Bytes(await Get(app, "/neighbourhood")));
        for (int turn = 0; turn < 2; turn++)
            Assert.Null((await Get(app, address)).Headers.ETag);
        Assert.Equal(plain, Encoding.UTF8.GetString(await Bytes(await Get(app, "/neighbourhood"))));
    }

    [Fact]
    public async Task Fault_is_not_kept()
    {
        var healthy = InventedEdition.Reader();
        var (reader, control) = ChangingReader.Before(healthy);
        control.Instead = (question, _, answer) => question == nameof(IEditionReader.Conditions) ? throw new InvalidOperationException("broken") : answer;
        await using var app = await RunningApp.Start(reader);
        var broken = await Get(app, Watershed, "br");
        Assert.Equal(HttpStatusCode.InternalServerError, broken.StatusCode);
        Assert.Null(broken.Headers.ETag);
        Assert.Contains("Something went wrong", Encoding.UTF8.GetString(await Bytes(broken)), StringComparison.Ordinal);
        control.Instead = null;
        Assert.Equal(HttpStatusCode.OK, (await Get(app, Watershed, "br")).StatusCode);
    }

    [Fact]
    public async Task Only_pages_that_speak_of_this_month_change_with_the_day()
    {
        const string Address = "https://frogs.example";
        await using var may = await RunningApp.Start(publicAddress: Address);
        await using var july = await RunningApp.Start(clock: new FixedTime(new DateTimeOffset(2026, 7, 20, 12, 0, 0, TimeSpan.Zero)), publicAddress: Address);
        foreach (string address in AllPages)
        {
            var (one, other) = (await Get(may, address), await Get(july, address));
            Assert.Equal(one.Headers.ETag, other.Headers.ETag);
            Assert.Equal(await Bytes(one), await Bytes(other));
        }
        foreach (string address in new[] { "/neighbourhood/990100010101", "/es/neighbourhood/990100010101" })
        {
            var (one, other) = (await Get(may, address), await Get(july, address));
            Assert.NotEqual(one.Headers.ETag, other.Headers.ETag);
            Assert.NotEqual(await Bytes(one), await Bytes(other));
        }
    }

    [Fact]
    public async Task Day_of_a_page_is_that_of_the_programme()
    {
        // Already the 15th in Greenwich, and the 14th where the programme is; an hour later still the 14th.
        await using var one = await RunningApp.Start();
        await using var later = await RunningApp.Start(clock: new FixedTime(new DateTimeOffset(2026, 5, 15, 3, 59, 0, TimeSpan.Zero)));
        await using var next = await RunningApp.Start(clock: new FixedTime(new DateTimeOffset(2026, 5, 15, 12, 0, 0, TimeSpan.Zero)));
        const string Page = "/neighbourhood/990100010101";
        Assert.Equal((await Get(one, Page)).Headers.ETag, (await Get(later, Page)).Headers.ETag);
        Assert.NotEqual((await Get(one, Page)).Headers.ETag, (await Get(next, Page)).Headers.ETag);
    }

    [Theory]
    [InlineData(Watershed, "no-cache")]
    [InlineData(Watershed + "?edition=3", "no-cache")]
    [InlineData(Watershed + "?edition=2", "public, max-age=86400")]
    [InlineData("/downloads/trends.csv", "no-cache")]
    [InlineData("/downloads/trends.csv?edition=2", "public, max-age=86400")]
    [InlineData("/nowhere", "no-cache")]
    public async Task Others_may_keep_an_earlier_edition_for_a_day_and_ask_again_for_todays(string address, string expected)
    {
        await using var app = await RunningApp.Start();
        Assert.Equal(expected, (await Get(app, address)).Headers.CacheControl!.ToString().Replace("max-age=86400, public", "public, max-age=86400", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/downloads/trends.csv")]
    [InlineData("/downloads/trends.json?species=RASY")]
    [InlineData("/downloads/trends.csv?edition=2")]
    public async Task Download_is_packed_tagged_by_its_edition_and_not_sent_again(string address)
    {
        await using var app = await RunningApp.Start();
        var (plain, packed) = (await Get(app, address), await Get(app, address, "br"));
        Assert.NotEqual(plain.Headers.ETag, packed.Headers.ETag);
        Assert.Equal(["br"], packed.Content.Headers.ContentEncoding);
        var unpacked = new MemoryStream();
        await using (var stream = new BrotliStream(await packed.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken), CompressionMode.Decompress))
            await stream.CopyToAsync(unpacked, TestContext.Current.CancellationToken);
        Assert.Equal(await plain.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken), unpacked.ToArray());
        var again = await Get(app, address, "br", packed.Headers.ETag!.Tag);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await Get(app, address, null, packed.Headers.ETag!.Tag)).StatusCode);
    }
}
