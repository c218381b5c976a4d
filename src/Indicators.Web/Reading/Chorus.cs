using System.Xml.Linq;
using Indicators.Analysis.Results;
using Indicators.Web.Charts;
using Indicators.Wording;

namespace Indicators.Web.Reading;

/// <summary>What was heard of each species in one season of an area: in how many wetlands, how much, on how many surveys.</summary>
internal sealed record Chorus(IReadOnlyList<string> Sentences, XElement? Picture, FactTable? Table)
{
    /// <param name="edition">The edition.</param>
    /// <param name="area">The area.</param>
    /// <param name="occupancy">Occupancy of the area: heard of listened to, by season.</param>
    /// <param name="indices">Indices of the area: mean call levels, by season.</param>
    public static Chorus Of(PublishedEdition edition, Area area, IReadOnlyList<OccupancyPoint> occupancy, IReadOnlyList<IndexPoint> indices)
    {
        int season = area.LastSeason;
        var effort = edition.EffortOf(area.Code).FirstOrDefault(each => each.Season == season);
        var levels = indices.Where(point => point.Season == season).ToDictionary(point => point.Species);
        var points = occupancy.Where(point => point.Season == season)
            .OrderByDescending(point => point.RawShare ?? -1).ThenBy(point => edition.NameOf(point.Species), StringComparer.OrdinalIgnoreCase).ToList();
        string listening = ChorusSentences.Listening(season, effort);
        if (points.Count == 0)
            return new Chorus([listening], null, null);

        var told = points.Where(point => point.WetlandsHeard is not null).ToList();
        var heard = told.Where(point => point.WetlandsHeard > 0).ToList();
        // Every species that may be told of here by wetland was listened for; a protected one counts neither as heard nor as silent.
        int listened = edition.Species.Count(species => !species.Protected);
        var sentences = new List<string> { listening, ChorusSentences.Heard(heard.Count, listened) };
        var bars = told.Select(point => new Bar(Name(point), point.RawShare ?? 0, ChorusSentences.OfWetlands(point.WetlandsHeard!.Value, point.Wetlands))).ToList();
        return new Chorus(
            sentences,
            BarList.Draw(bars, ChorusSentences.Picture(season, Phrases.Join([.. bars.Select(bar => $"{bar.Name} {bar.Value}")]))),
            new FactTable(
                ChorusSentences.Caption(season),
                [new(Columns.Species), new(ChorusSentences.WetlandsHeard, true), new(ChorusSentences.Share, true), new(ChorusSentences.MeanLevel, true), new(ChorusSentences.Surveys, true)],
                [.. points.Select(point => new FactRow(Name(point), Cells(point), $"~/species/{Uri.EscapeDataString(point.Species.ToString())}"))]));

        string Name(OccupancyPoint point) => Phrases.Capital(edition.NameOf(point.Species));

        IReadOnlyList<string> Cells(OccupancyPoint point)
        {
            var level = levels.GetValueOrDefault(point.Species);
            return
            [
                .. OccupiedSentences.Cells(point).Take(2),
                level is null ? "" : IndexSentences.CallLevel(level.MeanCallLevel),
                level is null ? "" : ChorusSentences.Count(level.Surveys),
            ];
        }
    }
}
