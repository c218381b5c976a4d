using System.Net;
using System.Xml.Linq;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Xunit;

namespace Indicators.Web.Tests.Leaking;

/// <summary>What an address answered.</summary>
/// <param name="Address">The address, from its first slash.</param>
/// <param name="Type">Its media type.</param>
/// <param name="Text">The body.</param>
internal sealed record Found(string Address, string Type, string Text)
{
    private readonly Lazy<IHtmlDocument> _page = new(() => new HtmlParser().ParseDocument(Text));

    public bool IsPage => Type == "text/html";

    public IHtmlDocument Page => _page.Value;
}

/// <summary>Follows every address that pages, feeds, calendars and lists of pages name, downloads and other languages among them.</summary>
internal static class Crawler
{
    /// <summary>Everything that can be reached.</summary>
    /// <param name="client">Who asks.</param>
    /// <param name="root">The app's own address.</param>
    /// <param name="starts">Addresses that must answer.</param>
    /// <param name="guesses">Addresses that may lead nowhere.</param>
    public static async Task<List<Found>> Everything(HttpClient client, Uri root, IEnumerable<string> starts, IEnumerable<string>? guesses = null)
    {
        var found = new List<Found>();
        var waiting = new Queue<string>(starts);
        var seen = waiting.ToHashSet();
        var maybe = (guesses ?? []).ToHashSet();
        foreach (string guess in maybe.Where(seen.Add))
            waiting.Enqueue(guess);
        while (waiting.TryDequeue(out string? address))
        {
            using var response = await client.GetAsync(new Uri(root, address), TestContext.Current.CancellationToken);
            if (response.StatusCode == HttpStatusCode.NotFound && maybe.Contains(address))
                continue;
            Assert.True(response.StatusCode == HttpStatusCode.OK, $"{address} answers {response.StatusCode}.");
            var answer = new Found(
                address, response.Content.Headers.ContentType?.MediaType ?? "", await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
            found.Add(answer);
            foreach (string link in Links(answer).Select(link => Own(root, link)).OfType<string>().Where(seen.Add))
                waiting.Enqueue(link);
        }
        return found;
    }

    private static IEnumerable<string> Links(Found answer)
    {
        if (answer.IsPage)
        {
            return answer.Page.QuerySelectorAll("[href], [src], [data-shapes], [data-href]")
                .SelectMany(element => new[] { "href", "src", "data-shapes", "data-href" }.Select(element.GetAttribute)).OfType<string>();
        }
        if (!answer.Type.EndsWith("xml", StringComparison.Ordinal) || answer.Type.Contains("svg", StringComparison.Ordinal))
            return [];
        var document = XDocument.Parse(answer.Text);
        return document.Descendants().Attributes("href").Select(each => each.Value)
            .Concat(document.Descendants().Where(element => element.Name.LocalName == "loc").Select(element => element.Value));
    }

    // Style sheets, scripts and pictures are the same for every programme.
    private static string? Own(Uri root, string link) =>
        Uri.TryCreate(root, link, out var whole) && whole.Authority == root.Authority && !whole.AbsolutePath.StartsWith("/assets/", StringComparison.Ordinal)
            ? whole.PathAndQuery : null;
}
