using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>All species and which way each goes.</summary>
internal sealed class SpeciesListModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    /// <summary>The area that holds every survey, or null when there is none.</summary>
    public Area? Whole { get; private set; }

    public IReadOnlyList<Trend> Trends { get; private set; } = [];

    public IReadOnlyDictionary<Id<Species>, SeriesEvidence> Evidence { get; private set; } = new Dictionary<Id<Species>, SeriesEvidence>();

    /// <summary>The species without a result for the whole area.</summary>
    public IReadOnlyList<Species> Untold { get; private set; } = [];

    public IActionResult OnGet()
    {
        if (!Open())
            return RedirectToPage("/Index");
        Whole = Edition.Tree.Whole?.Area;
        if (Whole is not null)
        {
            Trends = Edition.TrendsOf(Whole.Code).OrderBy(TrendTable.Urgency).ThenBy(trend => Edition.NameOf(trend.Species), StringComparer.OrdinalIgnoreCase).ToList();
            Evidence = Edition.EvidenceOf(Whole.Code).ToDictionary(evidence => evidence.Species);
        }
        var told = Trends.Select(trend => trend.Species).ToHashSet();
        Untold = Edition.Species.Where(species => !told.Contains(species.Id)).ToList();
        return Page();
    }

    public TrendTable Table() => new(
        Headings.EverySpeciesIn(PublishedEdition.NameOf(Whole!)), Columns.Species,
        [.. Trends.Select(trend => new TrendRow(Phrases.Capital(Edition.NameOf(trend.Species)), Href(trend.Species), trend, Evidence.GetValueOrDefault(trend.Species)))]);

    public static string Href(Id<Species> id) => $"~/species/{Uri.EscapeDataString(id.ToString())}";
}
