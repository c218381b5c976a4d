using Indicators.Web.Reading;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace Indicators.Web.Pages;

/// <summary>A page about the published edition.</summary>
internal abstract class EditionPageModel(EditionShelf shelf) : PageModel
{
    /// <summary>The key under which the layout finds the edition.</summary>
    public const string EditionKey = "Edition";

    /// <summary>The edition; read only after <see cref="Open"/> said there is one.</summary>
    public PublishedEdition Edition { get; private set; } = null!;

    /// <summary>Takes the published edition; false when nothing has been published yet.</summary>
    protected bool Open()
    {
        if (shelf.Current() is not { } edition)
            return false;
        Edition = edition;
        ViewData[EditionKey] = edition;
        return true;
    }
}
