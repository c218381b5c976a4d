using Indicators.Web.Reading;

namespace Indicators.Web.Pages;

/// <summary>How the results are made: the readers' method text, and the choices of this edition.</summary>
internal sealed class MethodsModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    public bool IsPublished { get; private set; }

    public void OnGet() => IsPublished = Open();
}
