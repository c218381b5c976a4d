using System.Collections.Frozen;
using Indicators.Wording;
using Markdig;
using Markdig.Extensions.AutoIdentifiers;
using Markdig.Renderers.Html;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;
using Microsoft.AspNetCore.Html;

namespace Indicators.Web.Serving;

/// <summary>The readers' method text in one language.</summary>
/// <param name="Language">The language it is written in.</param>
/// <param name="Html">The text without its title.</param>
/// <param name="Chapters">Its chapters: where each begins, and its heading.</param>
internal sealed record MethodsText(Language Language, IHtmlContent Html, IReadOnlyList<(string Id, string Title)> Chapters);

/// <summary>
/// The readers' method text, the same files as in the documentation, as HTML: <c>methods.md</c> in English, and
/// <c>methods.es.md</c> for a language with a text of its own. Its pictures are served with the other assets.
/// </summary>
internal sealed class MethodsTexts
{
    // Raw HTML is off: what the file says is text.
    private static readonly MarkdownPipeline Pipeline = new MarkdownPipelineBuilder().DisableHtml().UseAutoIdentifiers(AutoIdentifierOptions.AllowOnlyAscii).Build();

    private readonly FrozenDictionary<Language, MethodsText> _texts;

    public MethodsTexts(Assets assets)
        : this(assets, Embedded())
    {
    }

    /// <param name="assets">Where its pictures are.</param>
    /// <param name="files">The text's Markdown by language, English among them.</param>
    internal MethodsTexts(Assets assets, IReadOnlyDictionary<Language, string> files)
    {
        // Chapters keep the names of the English ones as their places, so that a link to one leads there in every language.
        var english = Headings(Parse(files[Language.Default])).Select(heading => heading.GetAttributes().Id!).ToList();
        _texts = files.ToFrozenDictionary(file => file.Key, file => Render(file.Key, Parse(file.Value), english, assets));
    }

    /// <summary>The text in a language, and in English where that has none.</summary>
    public MethodsText In(Language language) => _texts.GetValueOrDefault(language) ?? _texts[Language.Default];

    /// <summary>The Markdown of every language that has a text, as it is in the documentation.</summary>
    internal static IReadOnlyDictionary<Language, string> Embedded()
    {
        var found = new Dictionary<Language, string>();
        foreach (var language in Language.All)
        {
            using var stream = typeof(MethodsTexts).Assembly.GetManifestResourceStream(language.IsDefault ? "methods.md" : $"methods.{language.Tag}.md");
            if (stream is null)
                continue;
            using var reader = new StreamReader(stream);
            found[language] = reader.ReadToEnd();
        }
        return found;
    }

    // A number and its percent sign stay on one line.
    private static MarkdownDocument Parse(string text) => Markdown.Parse(text.Replace(" %", "\u00A0%", StringComparison.Ordinal), Pipeline);

    private static IEnumerable<HeadingBlock> Headings(MarkdownDocument document) => document.Descendants<HeadingBlock>();

    private static MethodsText Render(Language language, MarkdownDocument document, IReadOnlyList<string> ids, Assets assets)
    {
        foreach (var (heading, id) in Headings(document).Zip(ids))
            heading.GetAttributes().Id = id;
        foreach (var picture in document.Descendants<LinkInline>().Where(link => link.IsImage))
            picture.Url = assets.Url(picture.Url!);
        // Other texts of the documentation are not served: their names stay, without a link that leads nowhere.
        foreach (var link in document.Descendants<LinkInline>().Where(link => !link.IsImage && link.Url is { } url && url.Split('#')[0].EndsWith(".md", StringComparison.Ordinal) && !url.Contains(':', StringComparison.Ordinal)).ToList())
        {
            foreach (var word in link.ToList())
            {
                word.Remove();
                link.InsertBefore(word);
            }
            link.Remove();
        }
        // The page has its heading in the reader's language, with the list of chapters under it.
        if (document.FirstOrDefault() is HeadingBlock { Level: 1 } title)
            document.Remove(title);
        return new MethodsText(language, new HtmlString(document.ToHtml(Pipeline)), [.. Headings(document).Where(heading => heading.Level == 2)
            .Select(heading => (heading.GetAttributes().Id!, string.Concat(heading.Inline!.Descendants<LiteralInline>().Select(words => words.ToString()))))]);
    }
}
