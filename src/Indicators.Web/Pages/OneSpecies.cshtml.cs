using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>One species over all watersheds.</summary>
internal sealed class OneSpeciesModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    public Species Species { get; private set; } = null!;

    /// <summary>Trends of the areas shown, largest area first.</summary>
    public IReadOnlyList<Trend> Trends { get; private set; } = [];

    /// <summary>Trends of the areas that hold no other.</summary>
    public IReadOnlyList<Trend> Smallest { get; private set; } = [];

    /// <summary>The whole programme's area, when this species may be told of there.</summary>
    public ChartCard? Whole { get; private set; }

    public Trend? WholeTrend { get; private set; }

    public IReadOnlyDictionary<WatershedCode, SeriesEvidence> Evidence { get; private set; } = new Dictionary<WatershedCode, SeriesEvidence>();

    /// <summary>In how many wetlands of the whole programme it is; null when the edition cannot say.</summary>
    public ChartCard? Occupied { get; private set; }

    public IReadOnlyList<OccupancyPoint> OccupancyPoints { get; private set; } = [];

    public Depth? Spans { get; private set; }

    /// <summary>The clearest difference between watersheds, or that there is none; null with fewer than two to set beside each other.</summary>
    public string? Beside { get; private set; }

    /// <summary>Days heard, area by area; null when the edition has none.</summary>
    public FactTable? Days { get; private set; }

    public IReadOnlyList<ChartCard> Cards { get; private set; } = [];

    public IActionResult OnGet(string id)
    {
        if (!Open())
            return RedirectToPage("/Index");
        if (Id<Species>.Parse(id) is not { IsValid: true, Value: var key })
            return NotFound();
        if (Edition.SpeciesOf(key) is not { } species)
            return Missing(Subject.Species, (reader, edition) => reader.Species(edition).Any(one => one.Id == key));
        Species = species;
        var byArea = Edition.TrendsOf(species.Id).ToDictionary(trend => trend.Area);
        var nodes = Edition.Tree.Shown.Where(node => byArea.ContainsKey(node.Area.Code)).ToList();
        Trends = [.. nodes.Select(node => byArea[node.Area.Code])];
        Smallest = [.. nodes.Where(node => node.IsSmallest).Select(node => byArea[node.Area.Code])];
        Evidence = Edition.EvidenceOf(species.Id).ToDictionary(evidence => evidence.Area);
        var indices = Edition.IndicesOf(species.Id).ToLookup(point => point.Area);
        var smooth = Edition.SmoothOf(species.Id).ToLookup(point => point.Area);
        if (Edition.Tree.Whole is { } whole && byArea.GetValueOrDefault(whole.Area.Code) is { } trend)
        {
            WholeTrend = trend;
            Whole = Card(trend);
            OccupancyPoints = Edition.OccupancyOf(whole.Area.Code, species.Id);
            Occupied = ChartCard.Of(Edition, whole.Area, species.Id, OccupancyPoints);
            if (Depth.Windows(Edition, Edition.WindowsOf(whole.Area.Code, species.Id), [species.Id]) is { } windows)
                Spans = new Depth("spans", SpanSentences.Heading, windows, SpanSentences.Meaning);
        }
        Cards = [.. Trends.Where(each => each != WholeTrend).OrderBy(TrendTable.Urgency).ThenBy(each => each.Area).Select(Card)];
        Beside = Comparison.OfSpecies(Edition, species.Id, Smallest);
        Days = CallsOfTheYear.OfSpecies(Edition, species.Id, nodes.Select(node => node.Area.Code));
        return Page();

        ChartCard Card(Trend each) => ChartCard.Of(
            Edition, each, indices[each.Area], smooth[each.Area], Evidence.GetValueOrDefault(each.Area), Phrases.Capital(Edition.NameOf(each.Area)), $"~/watersheds/{each.Area}");
    }

    public TrendTable Table() => new(
        Headings.EveryAreaOf(Phrases.Capital(Edition.NameOf(Species.Id))), Columns.Watershed,
        [.. Trends.Select(trend => new TrendRow(Phrases.Capital(Edition.NameOf(trend.Area)), $"~/watersheds/{trend.Area}", trend, Evidence.GetValueOrDefault(trend.Area)))]);
}
