using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;

namespace Indicators.Web.Pages;

/// <summary>One season for those who run the place: every watershed, what moved and why, where to look, what is missing.</summary>
internal sealed class SeasonModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    /// <summary>So many lines of Needs a look a manager reads.</summary>
    private const int LongestList = 12;

    private Dictionary<WatershedCode, Condition> _conditions = [];
    private Dictionary<WatershedCode, Condition> _before = [];
    private Dictionary<WatershedCode, SeasonEffort> _effort = [];
    private Dictionary<WatershedCode, SeasonGap> _gaps = [];
    private ILookup<WatershedCode, Trend> _trends = Array.Empty<Trend>().ToLookup(trend => trend.Area);
    private ILookup<WatershedCode, SeriesEvidence> _evidence = Array.Empty<SeriesEvidence>().ToLookup(each => each.Area);

    public int Season { get; private set; }

    /// <summary>Trends, their support and the taking apart of changes stand with the last season of an edition.</summary>
    public bool IsLast { get; private set; }

    public IReadOnlyList<Area> Areas { get; private set; } = [];

    public SeasonEffort Whole { get; private set; } = null!;

    public IReadOnlyList<ScoreChange> Changes { get; private set; } = [];

    public ChangeTable? SincePrevious { get; private set; }

    public ChangeTable? SinceBaseline { get; private set; }

    /// <summary>The calling of every species in the whole programme's area, since the season before and since the baseline.</summary>
    public IReadOnlyList<IReadOnlyList<CallingRow>> Calling { get; private set; } = [];

    public IReadOnlyList<Concern> Look { get; private set; } = [];

    public int LookMore { get; private set; }

    public ConditionMap Map { get; private set; } = null!;

    public IReadOnlyList<int> Seasons { get; private set; } = [];

    public IActionResult OnGet(int? season)
    {
        if (!Open())
            return RedirectToPage("/Index");
        int last = Edition.Header.Counts.LastSeason;
        Season = season ?? last;
        Areas = [.. Edition.Tree.Shown.Select(node => node.Area)];
        var effort = Edition.Effort();
        _effort = effort.Where(each => each.Season == Season).ToDictionary(each => each.Area);
        if (_effort.Count == 0)
            return NotFound();
        IsLast = Season == last;
        Seasons = [.. effort.Select(each => each.Season).Distinct().OrderDescending()];
        Whole = Edition.Tree.Whole is { } whole && _effort.TryGetValue(whole.Area.Code, out var all) ? all : _effort.Values.MaxBy(each => each.Surveys)!;
        _conditions = Edition.ConditionsOf(Season);
        _gaps = Edition.GapsOf(Season).ToDictionary(gap => gap.Area);
        if (IsLast)
            ReadLast();
        else
            _before = Seasons.FirstOrDefault(each => each < Season) is var earlier and > 0 ? Edition.ConditionsOf(earlier) : [];
        Map = new ConditionMap(Edition, _conditions, area => Address($"/watersheds/{area}"), Season);
        return Page();
    }

    private void ReadLast()
    {
        var shown = Areas.Select(area => area.Code).ToHashSet();
        Changes = [.. Edition.ScoreChanges().Where(change => change.Season == Season && shown.Contains(change.Area))];
        SincePrevious = ChangeTable.Of(Areas, Changes, ChangeSince.PreviousSeason);
        SinceBaseline = ChangeTable.Of(Areas, Changes, ChangeSince.Baseline);
        _trends = Edition.Trends().ToLookup(trend => trend.Area);
        _evidence = Edition.Evidence().ToLookup(each => each.Area);
        if (Edition.Tree.Whole is { } whole)
        {
            Calling = [.. Edition.CallingChangesOf(whole.Area.Code).Where(change => change.Season == Season).GroupBy(change => change.Since).OrderBy(group => group.Key)
                .Select(group => group.OrderBy(change => Edition.NameOf(change.Species), StringComparer.OrdinalIgnoreCase).Select(CallingRow.Of).ToList())];
        }
        var smallest = Edition.Tree.Smallest.Select(node => node.Area.Code).ToHashSet();
        var ranked = ConcernRule.Ranked(
            smallest.SelectMany(area => _trends[area]), smallest.SelectMany(area => _evidence[area]), Edition.SilenceTallies().Where(tally => smallest.Contains(tally.Area)));
        Look = [.. ranked.Take(LongestList)];
        LookMore = ranked.Count - Look.Count;
    }

    public Condition? ConditionOf(Area area) => _conditions.GetValueOrDefault(area.Code);

    public SeasonEffort? EffortOf(Area area) => _effort.GetValueOrDefault(area.Code);

    public SeasonGap? GapOf(Area area) => _gaps.GetValueOrDefault(area.Code);

    public IReadOnlyList<Trend> TrendsOf(Area area) => [.. _trends[area.Code]];

    public string Support(Area area) => EvidenceRule.OfArea(area, _evidence[area.Code]) is { } grade ? EvidenceSentences.Label(grade) : "";

    /// <summary>The change of an area's score, in the words of its column: with its range in the last season, the points alone in others.</summary>
    public string Change(Area area, ChangeSince since) => !IsLast
        ? since == ChangeSince.PreviousSeason && _before.GetValueOrDefault(area.Code)?.Score is { } before && ConditionOf(area)?.Score is { } now
            ? Phrases.WithSign(now - before, "0.0") : ""
        : SeasonSentences.Points(Changes.FirstOrDefault(change => change.Area == area.Code && change.Since == since));

    /// <summary>The season that changes are counted from, for a column's heading.</summary>
    public int? From(ChangeSince since) => !IsLast
        ? since == ChangeSince.PreviousSeason && _before.Count > 0 ? _before.Values.First().Season : null
        : (since == ChangeSince.PreviousSeason ? SincePrevious : SinceBaseline)?.From;

    /// <summary>The place of an area in the list beside the map; null for areas that hold others.</summary>
    public int? NumberOf(Area area) =>
        Edition.Tree.Smallest.Select((node, place) => (node.Area.Code, Place: (int?)place + 1)).FirstOrDefault(each => each.Code == area.Code).Place;

    public string Lead() => string.Join(' ',
        SeasonSentences.Answer(Whole, Areas.Count(area => ConditionOf(area)?.Score is not null), Areas.Count),
        From(ChangeSince.PreviousSeason) is { } from && IsLast
            ? SeasonSentences.Moves([.. Changes.Where(change => change.Since == ChangeSince.PreviousSeason)], from) : "").TrimEnd();

    public string Line(Concern concern) => SeasonSentences.Look(
        concern, Edition.NameOf(concern.Area), concern.Trend is { } trend ? Edition.NameOf(trend.Species) : null, Edition.Settings.Trend.Confidence);
}
