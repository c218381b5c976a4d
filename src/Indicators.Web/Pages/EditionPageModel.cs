using System.Globalization;
using Indicators.Storage.Editions;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace Indicators.Web.Pages;

/// <summary>A page about the published edition, or about an earlier one that its address asks for: <c>?edition=2</c>.</summary>
internal abstract class EditionPageModel(EditionShelf shelf) : PageModel
{
    /// <summary>The key under which the layout finds the edition.</summary>
    public const string EditionKey = "Edition";

    /// <summary>The key under which the layout finds the number of today's edition, when the page shows an earlier one.</summary>
    public const string TodaysKey = "TodaysEdition";

    private PublishedEdition? _asked;

    /// <summary>The edition; read only after <see cref="Open"/> said there is one.</summary>
    public PublishedEdition Edition { get; private set; } = null!;

    protected EditionShelf Shelf => shelf;

    public override void OnPageHandlerExecuting(PageHandlerExecutingContext context)
    {
        if (!Request.Query.TryGetValue(EditionAddress.Query, out var asked))
            return;
        if (long.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out long number))
            _asked = shelf.ByNumber(number);
        if (_asked is not null)
            return;
        HttpContext.Items[EditionAddress.UnknownKey] = true;
        context.Result = NotFound();
    }

    /// <summary>Takes the edition asked for, else the published one; false when nothing has been published yet.</summary>
    protected bool Open()
    {
        var current = shelf.Current();
        if ((_asked ?? current) is not { } edition)
            return false;
        Edition = edition;
        ViewData[EditionKey] = edition;
        if (current is not null && current.Header.Number != edition.Header.Number)
            ViewData[TodaysKey] = current.Header.Number;
        return true;
    }

    /// <summary>
    /// The answer to an address that the edition has nothing for. An address that an earlier edition had something for is not
    /// dead: it leads to the last one of these. Any other leads nowhere.
    /// </summary>
    /// <param name="subject">What the address is about.</param>
    /// <param name="had">Whether the edition of a number had it.</param>
    protected IActionResult Missing(Subject subject, Func<IEditionReader, long, bool> had)
    {
        if (_asked is null && shelf.LastBefore(Edition.Header.Number, had) is { Number: var last })
            HttpContext.Items[EditionAddress.LeftKey] = new LeftPage(subject, last, EditionAddress.In(last, Request.PathBase.Add(Request.Path).ToUriComponent()));
        return NotFound();
    }

    /// <summary>An address of ours in the language and the edition of this page: plain today, asking for its number when it is an earlier one.</summary>
    protected string Address(string path)
    {
        string here = Request.PathBase + path;
        return ViewData[TodaysKey] is null ? here : EditionAddress.In(Edition.Header.Number, here);
    }
}
