using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Statistics.Fits;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Power;

/// <summary>Why a programme's own surveys cannot say how calling varies.</summary>
public enum PowerProblem
{
    /// <summary>There is no such species.</summary>
    UnknownSpecies,

    /// <summary>No station in such a watershed was surveyed.</summary>
    UnknownWatershed,

    /// <summary>The species was never heard there.</summary>
    NeverHeard,

    /// <summary>Too few wetlands or seasons tell anything, or the slope is not finite.</summary>
    TooLittle,

    /// <summary>The species is protected and too few wetlands there were surveyed to tell anything of it.</summary>
    KeptBack,
}

/// <summary>How calling of a species varies in a programme, or why that cannot be said.</summary>
/// <param name="Spread">The spread, or null.</param>
/// <param name="Basis">What it was estimated from, or null.</param>
/// <param name="Problem">Why there is none, or null.</param>
public sealed record ProgrammeSpread(CallingSpread? Spread, SpreadBasis? Basis, PowerProblem? Problem)
{
    /// <summary>Estimates the spread from accepted surveys.</summary>
    /// <param name="data">Accepted surveys and everything they refer to.</param>
    /// <param name="settings">The programme's settings.</param>
    /// <param name="run">Seed and resamples of the season spread, and the last season to use.</param>
    /// <param name="species">The species.</param>
    /// <param name="watershed">A watershed of any level, or null for all stations.</param>
    public static ProgrammeSpread Of(
        ProgrammeData data, ProgrammeSettings settings, RunOptions run, Id<Species> species, WatershedCode? watershed)
    {
        var cells = CellTable.Build(data, run.ThroughSeason);
        int k = Enumerable.Range(0, cells.Species.Count).FirstOrDefault(i => cells.Species[i].Id == species, -1);
        if (k < 0)
            return None(PowerProblem.UnknownSpecies);
        var areas = new AreaTree(cells);
        AreaNode[] parts = [.. areas.Nodes.Where(n => watershed is { } code ? n.Code == code : n.Code.Parent is null)];
        if (parts.Length == 0)
            return None(PowerProblem.UnknownWatershed);
        if (cells.Species[k].Protected)
        {
            var tellable = Disclosure.Tellable(areas, cells, k, settings.Disclosure.MinimumWetlands);
            if (!parts.All(p => tellable.Contains(p.Code)))
                return None(PowerProblem.KeptBack);
        }

        var node = new AreaNode { Code = parts[0].Code, Stations = [.. parts.SelectMany(p => p.Stations).Distinct().Order()] };
        var response = settings.Response.Of(settings.Response.Kind);
        var series = SpeciesSeries.Gather(cells, node, k, AreaClusters.In(cells, node), response, settings.Baseline);
        if (series.Panel is not { } panel)
            return None(PowerProblem.NeverHeard);
        var trend = PanelTrends.Of([panel], run.Seed, AreaFit.StreamOf(node.Code), settings.Trend, run.Resamples, SeasonCarryOver.Untold)[0];
        var whenHeard = WhenHeard(cells, node, k, response);
        if (trend.Slope.Status != SlopeStatus.Finite || double.IsNaN(trend.SeasonSd) || whenHeard.Count == 0)
            return None(PowerProblem.TooLittle);
        int surveyed = (
            from s in Enumerable.Range(0, panel.Units)
            from t in Enumerable.Range(0, panel.Periods)
            where panel.Exposure(s, t) > 0
            select (panel.ClusterOf(s), t)).Distinct().Count();
        return new ProgrammeSpread(
            SpreadFit.Of(panel, trend.Slope.Value, trend.SeasonSd, whenHeard),
            new SpreadBasis(
                series.Wetlands, series.Stations, series.Surveys, series.Seasons[0], series.Seasons[^1], (double)series.Surveys / surveyed,
                series.CeilingShare >= settings.Trend.CeilingWarningShare ? series.CeilingShare : null),
            null);
    }

    /// <summary>Which responses above 0 the area's surveys had, and how often each.</summary>
    private static List<(double Value, double Share)> WhenHeard(CellTable cells, AreaNode node, int species, (double One, double Two, double Three) response)
    {
        double[] values = [0, response.One, response.Two, response.Three];
        var times = new int[values.Length];
        foreach (int station in node.Stations)
        {
            for (int visit = cells.Visits.First(station); visit < cells.Visits.First(station + 1); visit++)
                if (cells.Visits.Season(visit, species) is not null)
                    times[cells.Visits.Level(visit, species)]++;
        }
        var heard = values.Select((value, level) => (Value: value, Times: times[level])).Where(v => v.Value > 0 && v.Times > 0)
            .GroupBy(v => v.Value).Select(g => (Value: g.Key, Times: g.Sum(v => v.Times))).OrderBy(v => v.Value).ToList();
        double all = heard.Sum(v => v.Times);
        return [.. heard.Select(v => (v.Value, v.Times / all))];
    }

    private static ProgrammeSpread None(PowerProblem problem) => new(null, null, problem);
}
