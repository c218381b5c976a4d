using System.Net;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Monitoring;
using Indicators.Web.Tests.Invented;
using Indicators.Wording;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>The language of a page stands in its address, and a page in one holds no words of another.</summary>
public sealed partial class LanguagesTests(SharedApp shared)
{
    private readonly RunningApp _app = shared.App;

    // Words the programme owns, as every language shows them, and what is the same in both, such as titles of sources.
    private static readonly string[] LeftAsGiven = ["#sources ~ ul", "footer", ".languages", "i[lang=la]", "code"];

    private async Task<IHtmlDocument> Read(string address, HttpStatusCode expected = HttpStatusCode.OK)
    {
        var response = await _app.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(expected, response.StatusCode);
        return new HtmlParser().ParseDocument(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>Every page that can be reached by links from the start page in one language.</summary>
    private async Task<Dictionary<string, IHtmlDocument>> Crawl(string start)
    {
        var found = new Dictionary<string, IHtmlDocument>();
        var waiting = new Queue<string>([start]);
        while (waiting.TryDequeue(out string? address))
        {
            if (found.ContainsKey(address))
                continue;
            var page = found[address] = await Read(address);
            foreach (var link in page.QuerySelectorAll("a[href]:not([hreflang]):not([download])"))
            {
                string href = link.GetAttribute("href")!.Split('#')[0];
                if (!href.StartsWith('/') || href.StartsWith("/assets/", StringComparison.Ordinal) || !IsPage(await _app.Client.GetAsync(new Uri(href, UriKind.Relative), TestContext.Current.CancellationToken)))
                    continue;
                Assert.True(start == "/" || href == start || href.StartsWith(start + "/", StringComparison.Ordinal) || href.StartsWith(start + "?", StringComparison.Ordinal), $"{address} leaves its language by {href}.");
                waiting.Enqueue(href);
            }
        }
        return found;
    }

    private static bool IsPage(HttpResponseMessage response) => response.Content.Headers.ContentType?.MediaType == "text/html";

    /// <summary>All words of a page that are ours: text, and what stands in attributes for those who do not see it.</summary>
    private static IEnumerable<string> Words(IHtmlDocument page)
    {
        foreach (var left in LeftAsGiven.SelectMany(each => page.QuerySelectorAll(each)).ToList())
            left.Remove();
        yield return page.Title ?? "";
        foreach (var text in page.Body!.Descendants<IText>().Where(text => text.ParentElement is not IHtmlScriptElement))
            yield return text.Text;
        foreach (var element in page.Body!.Descendants<IElement>())
        {
            foreach (string name in new[] { "aria-label", "title", "alt", "data-label", "data-chart" })
                yield return element.GetAttribute(name) ?? "";
        }
    }

    /// <summary>The fixed words of every English message that Spanish has not: those that could have been left behind.</summary>
    private static List<string> EnglishOnly()
    {
        var spanish = string.Join('\n', Language.All.Single(language => language.Tag == "es").Messages.Select(message => message.Pattern));
        return
        [
            .. Language.Default.Messages.Where(message => !message.Key.StartsWith("language.", StringComparison.Ordinal))
                .SelectMany(message => Fixed(message.Pattern)).Distinct()
                .Where(words => Letter().Count(words) >= 4 && !Regex.IsMatch(spanish, $@"(?<!\p{{L}}){Regex.Escape(words)}(?!\p{{L}})", RegexOptions.IgnoreCase)),
        ];
    }

    private static IEnumerable<string> Fixed(string pattern)
    {
        string before;
        // Cases of a choice open up from the inside, until no brace is left.
        do
        {
            before = pattern;
            pattern = Place().Replace(pattern, "\n");
            pattern = Case().Replace(pattern, "\n$1\n");
        }
        while (pattern != before);
        return pattern.Split('\n').Select(words => words.Replace('\u00A0', ' ').Trim(' ', '.', ',', ':', ';', '(', ')', '#', '%', '}')).Where(words => words.Length > 0 && !words.Contains('{', StringComparison.Ordinal));
    }

    [Fact]
    public async Task Spanish_pages_hold_no_English_words_of_ours()
    {
        var english = EnglishOnly();
        Assert.True(english.Count > 200);
        Assert.Contains("going down", english);
        Assert.Contains("We are quite sure of the direction", english);
        var pages = await Crawl("/es");
        Assert.True(pages.Count >= 10, string.Join(' ', pages.Keys));
        var left = new List<string>();
        foreach (var (address, page) in pages)
        {
            string text = string.Join('\n', Words(page)).Replace('\u00A0', ' ').Replace(Protocol.Default.Name, "", StringComparison.Ordinal);
            left.AddRange(english.Where(words => Regex.IsMatch(text, $@"(?<!\p{{L}}){Regex.Escape(words)}(?!\p{{L}})")).Select(words => $"{address}: {words}"));
        }
        Assert.Equal([], left);
    }

    [Fact]
    public async Task Every_English_page_has_its_twin_in_every_language_and_says_where()
    {
        var english = await Crawl("/");
        foreach (var (address, page) in english)
        {
            Assert.Equal("en", page.DocumentElement.GetAttribute("lang"));
            Assert.Equal(Language.All.Select(language => language.Tag), page.QuerySelectorAll("link[rel=alternate][hreflang]").Select(link => link.GetAttribute("hreflang")));
            string twin = page.QuerySelector(".languages a[hreflang=es]")!.GetAttribute("href")!;
            // The start page is /es without a slash, of an earlier edition too.
            Assert.Equal(address == "/" || address.StartsWith("/?", StringComparison.Ordinal) ? "/es" + address[1..] : "/es" + address, twin);
            var spanish = await Read(twin);
            Assert.Equal("es", spanish.DocumentElement.GetAttribute("lang"));
            Assert.Equal(address, spanish.QuerySelector(".languages a[hreflang=en]")!.GetAttribute("href"));
            Assert.Equal(page.QuerySelectorAll("table, svg, h2, section").Length, spanish.QuerySelectorAll("table, svg, h2, section").Length);
        }
    }

    [Fact]
    public async Task Spanish_watershed_page_says_the_same_in_Spanish()
    {
        string text = (await Read("/es/watersheds/990100010101")).Body!.TextContent.Replace('\u00A0', ' ');
        Assert.Contains("Hemos oído cada vez menos canto de wood frog en Marl Creek desde 2012. Es decir, cerca de 4 % menos cada temporada. Estamos bastante seguros del rumbo (rango del 95 %: de 2 a 6 % menos).", text, StringComparison.Ordinal);
        Assert.Contains("En 2026 la condición de Marl Creek estuvo entre regular y buena. Obtuvo 68 de 100 puntos (rango del 95 %: 61 a 75).", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/es/nowhere")]
    [InlineData("/es/watersheds/abc")]
    public async Task Address_that_leads_nowhere_says_so_in_the_language_asked_for(string address)
    {
        var page = await Read(address, HttpStatusCode.NotFound);
        Assert.Equal("es", page.DocumentElement.GetAttribute("lang"));
        Assert.Contains("Aquí no hay ninguna página", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal("/", page.QuerySelector(".languages a[hreflang=en]")!.GetAttribute("href"));
    }

    [Theory]
    [InlineData("/de")]
    [InlineData("/en")]
    [InlineData("/espresso")]
    [InlineData("/ES")]
    public async Task Prefix_of_no_language_leads_nowhere(string address) => await Read(address, HttpStatusCode.NotFound);

    [Fact]
    public async Task What_the_browser_asks_for_changes_nothing()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(_app.Address, "/"));
        request.Headers.AcceptLanguage.ParseAdd("es");
        var response = await _app.Client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Contains("<html lang=\"en\">", await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.False(response.Headers.Contains("Set-Cookie"));
    }

    [Fact]
    public async Task Species_have_the_name_of_the_language_where_the_programme_gave_one()
    {
        var reader = InventedEdition.Reader();
        await using var app = await RunningApp.Start(reader with
        {
            SpeciesList = [.. reader.SpeciesList.Select(species => species.Id == InventedEdition.Wood ? species with { OtherNames = OtherNames.Of([new("es", "aa, rana de bosque")]) } : species)],
        });
        async Task<IHtmlDocument> Page(string address) =>
            new HtmlParser().ParseDocument(await app.Client.GetStringAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken));
        Assert.Equal("Aa, rana de bosque", (await Page($"/es/species/{InventedEdition.Wood}")).QuerySelector("h1")!.TextContent.Trim());
        Assert.Equal("Wood frog", (await Page($"/species/{InventedEdition.Wood}")).QuerySelector("h1")!.TextContent.Trim());
        // Lists are in the order of the names they show.
        Assert.StartsWith("Aa, rana de bosque", (await Page("/es/species")).QuerySelector("tbody th")!.TextContent.Trim(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Downloads_are_the_same_from_every_language()
    {
        var page = await Read("/es/species");
        string href = page.QuerySelector("a[download]")!.GetAttribute("href")!;
        string csv = await _app.Client.GetStringAsync(new Uri(href, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains(",-4.1,", csv, StringComparison.Ordinal);
        Assert.Contains("watershed_code", csv, StringComparison.Ordinal);
    }

    [Fact]
    public void Fixed_words_of_a_message_are_found_inside_its_choices() => Assert.Equal(
        ["There", "are none", "is", "of it"],
        Fixed("There {n, plural, =0 {are none} one {is #} other {# {unit}}} of it."));

    [GeneratedRegex(@"\{\w+\}")]
    private static partial Regex Place();

    [GeneratedRegex(@"(?:\{\w+,\s*(?:plural|select),\s*)?(?:=\d+|\w+)\s*\{([^{}]*)\}\}?")]
    private static partial Regex Case();

    [GeneratedRegex(@"\p{L}")]
    private static partial Regex Letter();
}
