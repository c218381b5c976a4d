using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Charts;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>One wetland: what was heard, season by season. No score, and no protected species.</summary>
internal sealed class WetlandModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    private IReadOnlyList<WetlandCalls> _calls = [];

    public WetlandPlace Place { get; private set; } = null!;

    public string Name => PublishedEdition.NameOf(Place);

    /// <summary>Species ever heard here, by name, each with its seasons.</summary>
    public IReadOnlyList<IGrouping<Id<Species>, WetlandCalls>> Heard { get; private set; } = [];

    public IReadOnlyList<WetlandSeason> Seasons { get; private set; } = [];

    public IActionResult OnGet(string slug)
    {
        if (!Open())
            return LocalRedirect(Url.Content("~/"));
        if (Edition.WetlandAt(slug) is not { } place)
            return Missing(Subject.Wetland, (reader, edition) => reader.Wetlands(edition, shortName: slug).Count > 0);
        Place = place;
        _calls = Edition.CallsAt(place);
        Seasons = Edition.SeasonsOf(place);
        Heard = [.. _calls.GroupBy(calls => calls.Species).OrderBy(group => Edition.NameOf(group.Key), StringComparer.OrdinalIgnoreCase)];
        return Page();
    }

    /// <summary>How many of them were heard in the last season.</summary>
    public int HeardLatest => Heard.Count(group => group.Any(calls => calls.Season == Place.LastSeason && calls.VisitsHeard > 0));

    public IReadOnlyList<GridRow> Grid() =>
        [.. Heard.Select(group => new GridRow(Phrases.Capital(Edition.NameOf(group.Key)), group.ToDictionary(calls => calls.Season, calls => calls.MeanCallLevel)))];

    public FactTable Table()
    {
        var bySeason = _calls.ToLookup(calls => (calls.Season, calls.Species));
        var effort = Seasons.ToDictionary(season => season.Season, season => season.Surveys);
        return new FactTable(
            WetlandSentences.Caption(Name),
            [new(WetlandSentences.Season), new(WetlandSentences.Surveys, true), .. Heard.Select(group => new FactColumn(Phrases.Capital(Edition.NameOf(group.Key))))],
            [.. effort.Keys.Union(_calls.Select(calls => calls.Season)).OrderDescending().Select(season => new FactRow(
                Phrases.Season(season),
                [Phrases.Count(effort.GetValueOrDefault(season)), .. Heard.Select(group => WetlandSentences.Cell(bySeason[(season, group.Key)].FirstOrDefault()))]))]);
    }
}
