using Indicators.Web.Serving;
using Indicators.Wording;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace Indicators.Web.Pages;

/// <summary>What a reader sees of an address that leads nowhere or a fault of ours. Reads nothing, so it always works.</summary>
[IgnoreAntiforgeryToken]
internal sealed class ProblemModel : PageModel
{
    public bool IsOurs { get; private set; }

    /// <summary>The page of the last edition that had something for this address, or null.</summary>
    public LeftPage? Left => IsOurs ? null : HttpContext.Items[EditionAddress.LeftKey] as LeftPage;

    public string Sentence => IsOurs ? EditionSentences.Failed
        : Left is { } left ? ShareSentences.Left(left.Subject, left.Number)
        : HttpContext.Items.ContainsKey(EditionAddress.UnknownKey) ? EarlierEditionSentences.Unknown
        : EditionSentences.NotFound;

    public void OnGet(int? code) => Show(code);

    public void OnPost(int? code) => Show(code);

    private void Show(int? code)
    {
        IsOurs = HttpContext.Features.Get<IExceptionHandlerFeature>() is not null;
        // Asked for by its own address it is no page either.
        if (!IsOurs && HttpContext.Features.Get<IStatusCodeReExecuteFeature>() is null)
            Response.StatusCode = StatusCodes.Status404NotFound;
        // The address is right, and answers where to look: search engines are told by the page itself to leave it out.
        else if (Left is not null)
            Response.StatusCode = StatusCodes.Status200OK;
        else if (code is { } status)
            Response.StatusCode = status;
    }
}
