using Markdig;
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
        var pipeline = new MarkdownPipelineBuilder().DisableHtml().Build();
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
        Html = new HtmlString(document.ToHtml(pipeline));
    }

    public IHtmlContent Html { get; }
}
