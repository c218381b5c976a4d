using System.Xml.Linq;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Maps;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>The smallest watersheds on a map, coloured by condition, with the list beside it.</summary>
internal sealed class ConditionMap
{
    private readonly IReadOnlyDictionary<WatershedCode, Condition> _conditions;

    /// <param name="edition">Where shapes and scores come from.</param>
    /// <param name="conditions">The condition of each area in the season shown.</param>
    /// <param name="href">Where an area leads.</param>
    /// <param name="season">The season shown; null for the edition's last.</param>
    public ConditionMap(PublishedEdition edition, IReadOnlyDictionary<WatershedCode, Condition> conditions, Func<WatershedCode, string> href, int? season = null)
    {
        _conditions = conditions;
        var (fair, good) = (edition.Settings.Score.FairFrom, edition.Settings.Score.GoodFrom);
        Steps = [0, fair, (fair + good) / 2, good, (good + 100) / 2];
        Season = season ?? edition.Header.Counts.LastSeason;
        var areas = edition.Tree.Smallest.Select((node, place) =>
        {
            var condition = conditions.GetValueOrDefault(node.Area.Code);
            string name = Phrases.Capital(PublishedEdition.NameOf(node.Area));
            return new MapArea(node.Area.Code, place + 1, Amount(condition), PageWords.MapArea(place + 1, name, ConditionSentences.Label(condition)), href(node.Area.Code));
        }).ToList();
        Picture = AreaMap.Draw(edition.Outlines, areas, PageWords.Map);
    }

    /// <summary>The map; null without shapes.</summary>
    public XElement? Picture { get; }

    /// <summary>The season the colours stand for.</summary>
    public int Season { get; }

    /// <summary>Where the five steps of the map's hue begin: poor, both halves of fair, both halves of good.</summary>
    public IReadOnlyList<double> Steps { get; }

    private int? Amount(Condition? condition) =>
        condition is { Score: { } score, Lower: not null } ? Steps.Count(step => score >= step) : null;
}
