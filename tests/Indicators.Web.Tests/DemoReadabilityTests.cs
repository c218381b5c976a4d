using System.Globalization;
using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using Indicators.Wording.Tests;
using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Every sentence for everybody that the demo's pages say, in both languages, reads at eighth grade or below.</summary>
[Collection<DemoCollection>]
public sealed partial class DemoReadabilityTests(DemoApp demo)
{
    private const double Grade = 8;

    /// <summary>Fernández Huerta's table: from here on the 8th grade or below.</summary>
    private const double EighthGradeEase = 60;

    // Tables, pictures, links, labels and scientific names are no sentences; sources are cited as they are; the method text and numbers behind a grade are for those who ask for them.
    private const string NoSentence = "table, svg, nav, .prose, .analyst, i[lang=la], li > strong";

    private static List<string> Texts(IEnumerable<IHtmlDocument> pages)
    {
        var texts = new List<string>();
        foreach (var page in pages)
        {
            bool cautions = page.QuerySelector("link[rel=canonical]")?.GetAttribute("href")?.EndsWith("/cautions", StringComparison.Ordinal) ?? page.QuerySelectorAll("main li .note").Length > 5;
            foreach (var element in page.QuerySelectorAll(cautions ? NoSentence + ", li .note" : NoSentence).ToList())
                element.Remove();
            texts.AddRange(page.QuerySelectorAll("p, li, dd, figcaption").Where(element => element.QuerySelector("p, li, dd") is null)
                .Select(element => Spaces().Replace(element.TextContent, " ").TrimStart(' ', ':', '.').TrimEnd()));
        }
        return [.. texts.Where(text => SentenceEnd().IsMatch(text)).Distinct()];
    }

    [Fact]
    public async Task Every_sentence_of_the_demo_reads_at_grade_eight_or_below()
    {
        var pages = await demo.Crawl("/");
        var sentences = Texts(pages.Values).SelectMany(Readability.Sentences).Where(text => SentenceEnd().IsMatch(text)).Distinct().ToList();
        Assert.True(pages.Count > 20 && sentences.Count > 400, $"{pages.Count} pages, {sentences.Count} sentences.");
        var grades = sentences.Select(text => (Grade: Readability.Grade(text), Text: text)).OrderByDescending(each => each.Grade).ToList();
        var hard = grades.Where(each => each.Grade > Grade).ToList();
        Assert.True(hard.Count == 0, $"{hard.Count} of {sentences.Count}:\n" + string.Join('\n', hard.Select(each => FormattableString.Invariant($"{each.Grade:0.0} {each.Text}"))));
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{pages.Count} pages, {sentences.Count} sentences, mean grade {grades.Average(each => each.Grade):0.0}, highest {grades[0].Grade:0.0}: {grades[0].Text}"));
    }

    [Fact]
    public async Task Every_text_of_the_demo_in_Spanish_reads_at_eighth_grade_or_below()
    {
        var pages = await demo.Crawl("/es");
        var texts = Texts(pages.Values);
        Assert.True(pages.Count > 20 && texts.Count > 250, $"{pages.Count} pages, {texts.Count} texts.");
        var eases = texts.Select(text => (Ease: SpanishReadability.Ease(text), Text: text)).OrderBy(each => each.Ease).ToList();
        var hard = eases.Where(each => each.Ease < EighthGradeEase).ToList();
        Assert.True(hard.Count == 0, $"{hard.Count} of {texts.Count}:\n" + string.Join('\n', hard.Select(each => FormattableString.Invariant($"{each.Ease:0.0} {each.Text}"))));
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{pages.Count} pages, {texts.Count} texts, mean ease {eases.Average(each => each.Ease):0.0}, lowest {eases[0].Ease:0.0}: {eases[0].Text}"));
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();

    [GeneratedRegex(@"[.!?]$")]
    private static partial Regex SentenceEnd();
}
