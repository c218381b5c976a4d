using Markdig;
using Microsoft.AspNetCore.Html;

namespace Indicators.Web.Reading;

/// <summary>The readers' method text, the same file as in the documentation, as HTML.</summary>
internal sealed class MethodsText
{
    public MethodsText()
    {
        using var stream = typeof(MethodsText).Assembly.GetManifestResourceStream("methods.md")!;
        using var reader = new StreamReader(stream);
        // Raw HTML is off: what the file says is text.
        Html = new HtmlString(Markdown.ToHtml(reader.ReadToEnd(), new MarkdownPipelineBuilder().DisableHtml().Build()));
    }

    public IHtmlContent Html { get; }
}
