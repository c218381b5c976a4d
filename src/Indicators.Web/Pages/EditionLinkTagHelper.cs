using System.Net;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
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
            || output.Attributes["href"]?.Value?.ToString() is not { } address)
            return;
        // What the page wrote is markup already; what is set here is encoded once more.
        output.Attributes.SetAttribute("href", EditionAddress.In(edition.Header.Number, WebUtility.HtmlDecode(address)));
    }
}
