using Indicators.Web.Reading;

namespace Indicators.Web.Pages;

/// <summary>What to mind when going out to listen.</summary>
internal sealed class CautionsModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    public void OnGet() => Open();
}
