using Indicators.Analysis.Results;
using Indicators.Web.Charts;
using Indicators.Web.Reading;
using Indicators.Web.Serving;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>A sign to print and put up at a wetland, with a code that leads to its page.</summary>
internal sealed class WetlandSignModel(EditionShelf shelf, PublicAddress address) : EditionPageModel(shelf)
{
    public WetlandPlace Place { get; private set; } = null!;

    public string Name => PublishedEdition.NameOf(Place);

    /// <summary>The address the code holds.</summary>
    public string Target { get; private set; } = "";

    public IReadOnlyList<string> Heard { get; private set; } = [];

    public IActionResult OnGet(string slug)
    {
        if (!Open())
            return LocalRedirect(Url.Content("~/"));
        if (Edition.WetlandAt(slug) is not { } place)
            return Missing(Subject.Wetland, (reader, edition) => reader.Wetlands(edition, shortName: slug).Count > 0);
        Place = place;
        Target = address.Of(Request, $"/w/{place.Slug}");
        Heard = [.. Edition.CallsAt(place).Where(calls => calls.VisitsHeard > 0).Select(calls => Edition.NameOf(calls.Species)).Distinct().Order(StringComparer.OrdinalIgnoreCase)];
        return Page();
    }
}
