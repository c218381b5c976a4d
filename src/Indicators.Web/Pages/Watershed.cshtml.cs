using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>One watershed: its condition, its chorus, how sure we are.</summary>
internal sealed class WatershedModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    public Area Area { get; private set; } = null!;

    public string Name { get; private set; } = "";

    public Condition? Condition { get; private set; }

    public IReadOnlyList<Condition> Conditions { get; private set; } = [];

    public IReadOnlyList<Trend> Trends { get; private set; } = [];

    public IReadOnlyDictionary<Id<Species>, SeriesEvidence> Evidence { get; private set; } = new Dictionary<Id<Species>, SeriesEvidence>();

    public ChartCard Together { get; private set; } = null!;

    public IReadOnlyList<ChartCard> Cards { get; private set; } = [];

    public ScoreTable? Score { get; private set; }

    public HoldsBack? HoldsBack { get; private set; }

    public Comparison Comparison { get; private set; } = null!;

    public CallsOfTheYear Calls { get; private set; } = null!;

    /// <summary>What stands beside the trends: shorter spans, groups of species, occupancy.</summary>
    public IReadOnlyList<Depth> Depths { get; private set; } = [];

    public IActionResult OnGet(string code)
    {
        if (!Open())
            return RedirectToPage("/Index");
        if (WatershedCode.Parse(code) is not { IsValid: true, Value: var watershed })
            return NotFound();
        if (Edition.AreaOf(watershed) is not { } area)
            return Missing(Subject.Watershed, (reader, edition) => reader.AreaOf(edition, watershed) is not null);
        Area = area;
        Name = PublishedEdition.NameOf(area);
        Conditions = Edition.ConditionsOf(area.Code);
        Condition = Conditions is [.., var latest] ? latest : null;
        Trends = Edition.TrendsOf(area.Code)
            .OrderBy(TrendTable.Urgency).ThenBy(trend => Edition.NameOf(trend.Species), StringComparer.OrdinalIgnoreCase).ToList();
        Evidence = Edition.EvidenceOf(area.Code).ToDictionary(evidence => evidence.Species);
        Together = ChartCard.Of(Edition, area, Edition.GroupOf(area.Code));
        var indices = Edition.IndicesOf(area.Code).ToLookup(point => point.Species);
        var smooth = Edition.SmoothOf(area.Code).ToLookup(point => point.Species);
        Cards = [.. Trends.Select(trend => ChartCard.Of(
            Edition, trend, indices[trend.Species], smooth[trend.Species], Evidence.GetValueOrDefault(trend.Species), Phrases.Capital(Edition.NameOf(trend.Species)), SpeciesHref(trend)))];
        Score = Condition is null ? null : ScoreTable.Of(Edition, Condition, Trends);
        HoldsBack = HoldsBack.Of(Score, Condition);
        Comparison = Comparison.Of(Edition, area, Condition);
        Calls = new CallsOfTheYear(Edition, area, Edition.CallingTimesOf(area.Code));
        Depths = Depth.Of(Edition, area, Trends);
        return Page();
    }

    public TrendTable Table() => new(
        Headings.EverySpeciesIn(Name), Columns.Species,
        [.. Trends.Select(trend => new TrendRow(Phrases.Capital(Edition.NameOf(trend.Species)), SpeciesHref(trend), trend, Evidence.GetValueOrDefault(trend.Species)))]);

    private static string SpeciesHref(Trend trend) => $"~/species/{Uri.EscapeDataString(trend.Species.ToString())}";
}
