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

    public string Sentence => IsOurs ? EditionSentences.Failed
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
        else if (code is { } status)
            Response.StatusCode = status;
    }
}
