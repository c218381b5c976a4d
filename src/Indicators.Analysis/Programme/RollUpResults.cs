using Indicators.Analysis.Results;

namespace Indicators.Analysis.Programme;

/// <summary>
/// Indices of larger watersheds as the mean over the watersheds directly inside them, to be read beside the direct fit.
/// </summary>
/// <remarks>
/// The direct fit weighs a station by how much it calls; here every smaller area counts by its stations that ever heard the
/// species, the same weight in every season. Only smaller areas whose index has the larger one's own baseline seasons are
/// in: the others' 100 means another time.
/// </remarks>
internal static class RollUpResults
{
    /// <summary>A mean of areas that hold less than this share of the stations is not told (ours).</summary>
    private const double LeastStationShare = 0.5;

    /// <summary>Every area with two smaller areas or more directly inside it, every species and season with a direct index.</summary>
    public static IReadOnlyList<RollUp> Of(IReadOnlyList<AreaResult> results) =>
        [.. Siblings.Of(results).Where(set => set.Parent is not null).SelectMany(set => Of(results.First(r => r.Area.Code == set.Parent), set))];

    private static IEnumerable<RollUp> Of(AreaResult whole, Siblings set)
    {
        var inside = set.Areas.SelectMany(area => area.Indices).ToLookup(point => point.Species);
        var stations = set.Areas.SelectMany(area => area.Trends).ToDictionary(trend => (trend.Area, trend.Species), trend => trend.Stations);
        foreach (var direct in whole.Indices.GroupBy(point => point.Species))
        {
            // Those that lie in no smaller area too: the direct index rests on them. Not told of a protected species, nor is then a mean weighted by them.
            if (whole.Trends.First(trend => trend.Species == direct.Key).Stations is not { } all)
                continue;
            var baseline = direct.Where(point => point.InBaseline).Select(point => point.Season).ToHashSet();
            var comparable = inside[direct.Key]
                .GroupBy(point => point.Area)
                .Where(area => baseline.SetEquals(area.Where(point => point.InBaseline).Select(point => point.Season)))
                .SelectMany(area => area)
                .Where(point => point.Index is not null)
                .ToLookup(point => point.Season);
            foreach (var point in direct.Where(point => point.Index is not null))
            {
                double sum = 0, weight = 0;
                int areas = 0;
                foreach (var one in comparable[point.Season])
                {
                    double own = stations[(one.Area, one.Species)]!.Value;
                    (sum, weight, areas) = (sum + own * one.Index!.Value, weight + own, areas + 1);
                }
                double share = all > 0 ? weight / all : 0;
                yield return new RollUp
                {
                    Area = whole.Area.Code,
                    Species = direct.Key,
                    Season = point.Season,
                    DirectIndex = point.Index!.Value,
                    RolledUpIndex = weight > 0 && share >= LeastStationShare ? sum / weight : null,
                    Areas = areas,
                    StationShare = share,
                };
            }
        }
    }
}
