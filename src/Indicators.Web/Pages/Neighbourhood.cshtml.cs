using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using NodaTime.Extensions;

namespace Indicators.Web.Pages;

/// <summary>Finding the reader's own watershed, and its answer.</summary>
internal sealed class NeighbourhoodModel(EditionShelf shelf, TimeProvider clock) : EditionPageModel(shelf)
{
    private const int LongestList = 20;

    /// <summary>What was typed, or empty.</summary>
    public string Query { get; private set; } = "";

    public IReadOnlyList<GazetteerEntry> Hits { get; private set; } = [];

    public bool HasMoreHits { get; private set; }

    /// <summary>The area that is answered for, or null while one is looked for.</summary>
    public Area? Area { get; private set; }

    public Condition? Condition { get; private set; }

    public GroupTrend? Together { get; private set; }

    public Chorus? Chorus { get; private set; }

    public CallsOfTheYear? Calls { get; private set; }

    public IReadOnlyCollection<SeriesEvidence> Evidence { get; private set; } = [];

    public IReadOnlyList<WetlandPlace> Wetlands { get; private set; } = [];

    public ConditionMap? Map { get; private set; }

    /// <summary>Where the browser finds the shapes.</summary>
    public string ShapesAddress => Address("/shapes.json");

    /// <summary>Today in the programme's own time zone.</summary>
    public LocalDate Today => clock.GetUtcNow().ToInstant().InZone(DateTimeZoneProviders.Tzdb[Edition.Settings.TimeZone]).Date;

    public IActionResult OnGet(string? code, string? q)
    {
        if (!Open())
            return LocalRedirect(Url.Content("~/"));
        if (code is not null)
        {
            if (WatershedCode.Parse(code) is not { IsValid: true, Value: var watershed })
                return NotFound();
            return Answer(watershed) ? Page() : Missing(Subject.Watershed, (reader, edition) => reader.AreaOf(edition, watershed) is not null);
        }

        Query = (q ?? "").Trim();
        var found = Edition.Search.Find(Query, LongestList + 1);
        HasMoreHits = found.Count > LongestList;
        Hits = [.. found.Take(LongestList)];
        // One watershed alone answers to this name: no need to ask which.
        if (Hits.Where(hit => Hits.Count == 1 || PlaceSearch.IsWhole(hit, Query)).Select(hit => hit.Area).Distinct().ToList() is [var only])
            return LocalRedirect(Address($"/neighbourhood/{only}"));
        Map = new ConditionMap(Edition, Edition.LatestConditions(), area => Address($"/neighbourhood/{area}"));
        return Page();
    }

    private bool Answer(WatershedCode watershed)
    {
        if (Edition.AreaOf(watershed) is not { } area)
            return false;
        Area = area;
        Condition = Edition.ConditionsOf(area.Code) is [.., var latest] ? latest : null;
        Together = Edition.GroupTrendsOf(area.Code).FirstOrDefault(trend => trend.Group == SpeciesGroup.All);
        Chorus = Chorus.Of(Edition, area, Edition.OccupancyOf(area.Code), Edition.IndicesOf(area.Code));
        Calls = new CallsOfTheYear(Edition, area, Edition.CallingTimesOf(area.Code));
        Evidence = Edition.EvidenceOf(area.Code);
        Wetlands = Edition.WetlandsOf(area.Code);
        return true;
    }
}
