using System.Globalization;
using System.Net;
using System.Text.Encodings.Web;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Microsoft.AspNetCore.Html;
using Microsoft.AspNetCore.Mvc.Rendering;
using Microsoft.AspNetCore.Mvc.ViewFeatures;
using Microsoft.AspNetCore.Razor.TagHelpers;

namespace Indicators.Web.Pages;

/// <summary>
/// Keeps a reader of an earlier edition in it: links of its pages to other pages of ours ask for the same edition, unless the
/// link says <c>any-edition</c>. On today's pages every address stays plain.
/// </summary>
[HtmlTargetElement("a", Attributes = "href")]
[HtmlTargetElement("a", Attributes = "asp-page")]
public sealed class EditionLinkTagHelper : TagHelper
{
    /// <summary>After the framework's own, which turns the name of a page into its address.</summary>
    public override int Order => 1000;

    [HtmlAttributeName("any-edition")]
    public bool AnyEdition { get; set; }

    [HtmlAttributeNotBound]
    [ViewContext]
    public ViewContext ViewContext { get; set; } = null!;

    public override void Process(TagHelperContext context, TagHelperOutput output)
    {
        if (AnyEdition || ViewContext.ViewData[EditionPageModel.TodaysKey] is null
            || ViewContext.ViewData[EditionPageModel.EditionKey] is not PublishedEdition edition
            || Written(output.Attributes["href"]?.Value) is not { } address)
            return;
        // What the page wrote is markup already; what is set here is encoded once more.
        output.Attributes.SetAttribute("href", EditionAddress.In(edition.Header.Number, WebUtility.HtmlDecode(address)));
    }

    // An address the framework put together, such as ~/ with what follows it, says what it is only when it is written.
    private static string? Written(object? value)
    {
        if (value is not IHtmlContent content)
            return value?.ToString();
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        content.WriteTo(text, HtmlEncoder.Default);
        return text.ToString();
    }
}
