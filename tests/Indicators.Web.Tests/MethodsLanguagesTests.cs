using System.Text.Encodings.Web;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Indicators.Web.Serving;
using Indicators.Web.Tests.Invented;
using Indicators.Wording;
using Indicators.Wording.Tests;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>The method text says the same in every language that has one, at the same places; elsewhere it is English and says so.</summary>
public sealed class MethodsLanguagesTests(SharedApp shared)
{
    private const string Note = "Este texto está solo en inglés.";
    private static readonly Language Spanish = Language.All.Single(language => language.Tag == "es");

    private static async Task<IHtmlDocument> Read(RunningApp app, string address) =>
        new HtmlParser().ParseDocument(await app.Client.GetStringAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken));

    [Fact]
    public void Every_translation_has_the_chapters_blocks_numbers_names_and_sources_of_the_English_text()
    {
        var texts = MethodsTexts.Embedded();
        Assert.Contains(Spanish, texts.Keys);
        var differences = texts.Where(text => !text.Key.IsDefault).SelectMany(text => MethodTwins.Differences(texts[Language.Default], text.Value, text.Key)).ToList();
        Assert.True(differences.Count == 0, string.Join('\n', differences));
    }

    // The comparison finds what it is there for: each is one slip in the Spanish text.
    [Theory]
    [InlineData("la correlación 0,15", "la correlación 0,25", "How sure we are (Qué tan seguros estamos)", "numbers")]
    [InlineData("la correlación 0,15", "la correlación 0.15", "How sure we are (Qué tan seguros estamos)", "numbers")]
    [InlineData("2000 veces", "2.000 veces", "How sure we are", "numbers")]
    [InlineData("(e^pendiente − 1)", "(e^pendiente + 1)", "The index and the trend", "numbers")]
    [InlineData("`season_sd`", "`sd_temporada`", "How sure we are", "code")]
    [InlineData("Fewster et al. (2000) llevaron", "Otros (2000) llevaron", "The long picture", "sources")]
    [InlineData("Wood, S. N. 2011", "Woods, S. N. 2011", "Sources (Fuentes)", "sources")]
    [InlineData("*Ecosphere*", "*Ecosfera*", "Sources (Fuentes)", "titles")]
    [InlineData("- Una *temporada* es el año en que empezó la época de canto.\n", "", "What we measure", "list items")]
    [InlineData("4. *observadores*", "- *observadores*", "What changed, and what only the listening changed", "kind of block")]
    [InlineData("(figures/coverage-grid", "(figures/coverage-others", "Do the ranges hold what they should?", "pictures")]
    [InlineData("(occupancy.md)", "(pooling.md)", "Was it missed, or is it gone?", "links")]
    [InlineData("*Puntos de giro*", "Puntos de giro", "The long picture", "emphasised")]
    [InlineData("## Especies en riesgo\n", "", "20 in Español", "chapters")]
    public void Slip_in_a_translation_is_found_in_its_chapter(string right, string slip, string chapter, string what)
    {
        var texts = MethodsTexts.Embedded();
        string spanish = texts[Spanish];
        Assert.Contains(right, spanish, StringComparison.Ordinal);
        var differences = MethodTwins.Differences(texts[Language.Default], spanish.Replace(right, slip, StringComparison.Ordinal), Spanish);
        Assert.Contains(differences, difference => difference.Contains(chapter, StringComparison.Ordinal) && difference.Contains(what, StringComparison.Ordinal));
    }

    // Single sentences may be long where they say a method; the text as a whole is no harder than the pages. Limits: DemoReadabilityTests.
    [Fact]
    public void Method_text_as_a_whole_reads_at_eighth_grade_or_below_in_every_language()
    {
        var texts = new MethodsTexts(new Assets());
        string english = Prose(texts.In(Language.Default)), spanish = Prose(texts.In(Spanish));
        Assert.True(Readability.Sentences(english).Count > 300 && Readability.Sentences(spanish).Count > 300);
        Assert.True(Readability.Grade(english) <= 8, $"English: grade {Readability.Grade(english)}.");
        Assert.True(SpanishReadability.Ease(spanish) >= 60, $"Spanish: ease {SpanishReadability.Ease(spanish)}.");

        // Sources are no sentences; an item of a list ends as one.
        static string Prose(MethodsText text)
        {
            using var writer = new StringWriter();
            text.Html.WriteTo(writer, HtmlEncoder.Default);
            var blocks = new HtmlParser().ParseDocument(writer.ToString()).QuerySelectorAll("p, li").Where(block => block.QuerySelector("p, li") is null && !block.Matches("#sources ~ *, #sources ~ * *"));
            return string.Join(' ', blocks.Select(block => block.TextContent.Trim().TrimEnd('.', ';', ':', ',')).Where(words => words.Length > 0).Select(words => words + "."));
        }
    }

    [Fact]
    public async Task Spanish_page_has_its_own_text_at_the_places_of_the_English_one()
    {
        var (english, spanish) = (await Read(shared.App, "/methods"), await Read(shared.App, "/es/methods"));
        Assert.All(english.QuerySelectorAll("main .prose"), prose => Assert.Equal("en", prose.GetAttribute("lang")));
        Assert.All(spanish.QuerySelectorAll("main .prose"), prose => Assert.Equal("es", prose.GetAttribute("lang")));
        Assert.DoesNotContain(Note, spanish.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains(spanish.QuerySelectorAll("main p"), paragraph => paragraph.TextContent.StartsWith("Esto no es un conteo de ranas.", StringComparison.Ordinal));
        Assert.Equal("Qué tan seguros estamos", spanish.QuerySelector("h2#how-sure-we-are")!.TextContent);
        Assert.Equal(Places(english), Places(spanish));
        Assert.Equal(Places(spanish), spanish.QuerySelectorAll("main details a").Select(link => link.GetAttribute("href")!.TrimStart('#')));
        Assert.Equal(Places(spanish), Places(spanish).Distinct());

        static IEnumerable<string?> Places(IHtmlDocument page) => page.QuerySelectorAll(".prose h2").Select(heading => heading.Id);
    }

    [Fact]
    public async Task Language_without_a_text_of_its_own_is_given_the_English_one_and_told_so()
    {
        var onlyEnglish = new Dictionary<Language, string> { [Language.Default] = "# Methods\n\n## What we measure\n\nCalls.\n" };
        await using var app = await RunningApp.Start(change: services => services.AddSingleton(given => new MethodsTexts(given.GetRequiredService<Assets>(), onlyEnglish)));
        var (english, spanish) = (await Read(app, "/methods"), await Read(app, "/es/methods"));
        Assert.Equal("es", spanish.DocumentElement.GetAttribute("lang"));
        Assert.Equal(Note, spanish.QuerySelector("main .note")!.TextContent);
        Assert.All(spanish.QuerySelectorAll("main .prose"), prose => Assert.Equal("en", prose.GetAttribute("lang")));
        Assert.Equal(english.QuerySelector("div.prose")!.InnerHtml, spanish.QuerySelector("div.prose")!.InnerHtml);
        Assert.Null(english.QuerySelector("main .note"));
    }
}
