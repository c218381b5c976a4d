using AngleSharp.Html.Parser;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>What a first visit to the demo sends over the wire.</summary>
[Collection<DemoCollection>]
public sealed class DemoWireTests(DemoApp demo)
{
    private const int Most = 150_000;

    [Fact]
    public async Task First_view_of_every_page_is_at_most_150_kilobytes_and_asks_nobody_else()
    {
        var pages = (await demo.Crawl("/")).Keys.Concat((await demo.Crawl("/es")).Keys).ToList();
        Assert.True(pages.Count > 300, $"{pages.Count} pages.");
        var views = new List<(int Bytes, string Address)>();
        var files = new Dictionary<string, int>();
        foreach (string address in pages)
        {
            var (bytes, html) = await demo.Send(address);
            var page = new HtmlParser().ParseDocument(html);
            // What a browser fetches by itself; pictures of other sizes are counted too.
            var asked = page.QuerySelectorAll("link[rel=stylesheet], link[rel=icon], script[src], img[src], source[src], iframe[src], object[data]")
                .Select(element => element.GetAttribute("href") ?? element.GetAttribute("src") ?? element.GetAttribute("data")!).Distinct().ToList();
            Assert.NotEmpty(asked);
            foreach (string file in asked.Where(file => !file.StartsWith("data:", StringComparison.Ordinal)))
            {
                Assert.True(file.StartsWith("/assets/", StringComparison.Ordinal), $"{address} asks for {file}.");
                if (!files.TryGetValue(file, out int size))
                {
                    (size, string text) = await demo.Send(file);
                    Assert.False(file.Contains(".css", StringComparison.Ordinal) && (text.Contains("@import", StringComparison.Ordinal) || text.Contains("url(", StringComparison.Ordinal)), $"{file} asks for more.");
                    files[file] = size;
                }
                bytes += size;
            }
            views.Add((bytes, address));
        }
        views = [.. views.OrderByDescending(view => view.Bytes)];
        TestContext.Current.TestOutputHelper?.WriteLine(string.Join('\n', views.Take(5).Append(views[^1]).Select(view => FormattableString.Invariant($"{view.Bytes} bytes: {view.Address}"))));
        Assert.InRange(views[^1].Bytes, 2_000, Most);
        Assert.Equal([], views.Where(view => view.Bytes > Most));
    }
}
