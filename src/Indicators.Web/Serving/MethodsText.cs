using Markdig;
using Markdig.Extensions.AutoIdentifiers;
using Markdig.Renderers.Html;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;
using Microsoft.AspNetCore.Html;

namespace Indicators.Web.Serving;

/// <summary>The readers' method text, the same file as in the documentation, as HTML. Its pictures are served with the other assets.</summary>
internal sealed class MethodsText
{
    public MethodsText(Assets assets)
    {
        using var stream = typeof(MethodsText).Assembly.GetManifestResourceStream("methods.md")!;
        using var reader = new StreamReader(stream);
        // Raw HTML is off: what the file says is text.
        var pipeline = new MarkdownPipelineBuilder().DisableHtml().UseAutoIdentifiers(AutoIdentifierOptions.AllowOnlyAscii).Build();
        var document = Markdown.Parse(reader.ReadToEnd(), pipeline);
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
        Html = new HtmlString(document.ToHtml(pipeline));
        Chapters = [.. document.Descendants<HeadingBlock>().Where(heading => heading.Level == 2)
            .Select(heading => (heading.GetAttributes().Id!, string.Concat(heading.Inline!.Descendants<LiteralInline>().Select(words => words.ToString()))))];
    }

    public IHtmlContent Html { get; }

    /// <summary>Its chapters: where each begins, and its heading.</summary>
    public IReadOnlyList<(string Id, string Title)> Chapters { get; }
}
