using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Occupancy;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Fits;

/// <summary>
/// All fits of one area under one resampling plan shared by all its species. A pure function of the cells, the settings and
/// the seed: resamples are cut into blocks of fixed size, each block writes its own places, so the number of threads and
/// their order change nothing.
/// </summary>
internal sealed class AreaFit
{
    private AreaFit(AreaNode area, SpeciesFit[] species, UnderlyingFit underlying, bool resamplesStations)
    {
        (Area, Species, Underlying, ResamplesStations) = (area, species, underlying, resamplesStations);
    }

    /// <summary>The area whose stations were fitted; areas with the same stations share the fit.</summary>
    public AreaNode Area { get; }

    /// <summary>One fit a species, in the cell table's order.</summary>
    public SpeciesFit[] Species { get; }

    /// <summary>Which way the species go beneath good and bad springs.</summary>
    public UnderlyingFit Underlying { get; }

    /// <summary>How the species occupy the area's wetlands.</summary>
    public required AreaOccupancy Occupancy { get; init; }

    /// <summary>Which clusters are in which resample.</summary>
    public required ResamplingPlan Plan { get; init; }

    /// <summary>Keys what is drawn beside the resamples.</summary>
    public required DrawKey Draws { get; init; }

    /// <summary>The area is a single wetland, so its stations were resampled.</summary>
    public bool ResamplesStations { get; }

    /// <summary>Fits an area.</summary>
    /// <param name="cells">All cells.</param>
    /// <param name="area">The area.</param>
    /// <param name="settings">The programme's settings.</param>
    /// <param name="run">Seed and number of resamples.</param>
    /// <param name="threads">Counts the threads at work.</param>
    /// <param name="parallel">How many threads may work at once, on which the answer does not depend; stops between blocks.</param>
    public static AreaFit Of(
        CellTable cells, AreaNode area, ProgrammeSettings settings, RunOptions run, ThreadGauge threads, ParallelOptions parallel)
    {
        var clusters = AreaClusters.In(cells, area);
        var response = settings.Response.Of(settings.Response.Kind);
        var species = new SpeciesFit[cells.Species.Count];
        var plan = new ResamplingPlan(run.Seed, StreamOf(area.Representative), clusters.Count);
        var batches = SpeciesBatches.Of(species.Length, area.Stations.Length);
        foreach (int[] batch in batches)
        {
            Parallel.ForEach(batch, parallel, k =>
            {
                using var _ = threads.Enter();
                var series = SpeciesSeries.Gather(cells, area, k, clusters, response, settings.Baseline);
                species[k] = SpeciesFit.Of(series, WindowFit.Of(cells, area, series, clusters, settings, run), settings.Trend, run.Resamples);
            });
            SpeciesFit[] heard = [.. batch.Select(k => species[k]).Where(one => one.Series.WasHeard)];
            ResampleBlock.Each(plan, run.Resamples, parallel, () => new SpeciesFit.Workspace?[heard.Length], (block, work) =>
            {
                using var _ = threads.Enter();
                for (int i = 0; i < heard.Length; i++)
                    heard[i].Refit(block, work[i] ??= new SpeciesFit.Workspace(heard[i]));
            });
            foreach (int k in batch)
                species[k].LetGo(andOfThePanel: batches.Count > 1);
        }
        var underlying = UnderlyingFit.Of(species, new NormalDraws(run.Seed, StreamOf(area.Representative)), settings.Trend, run.Resamples, parallel);
        var draws = new DrawKey(run.Seed, StreamOf(area.Representative));
        return new AreaFit(area, species, underlying, clusters.AreStations)
        {
            Occupancy = AreaOccupancy.Of(cells, area, settings.Occupancy, settings.Trend.Confidence, draws, parallel),
            Plan = plan,
            Draws = draws,
        };
    }

    /// <summary>A number of its own for every watershed code: the digits, and above them how many there are.</summary>
    internal static ulong StreamOf(WatershedCode code) =>
        ulong.Parse(code.ToString(), System.Globalization.CultureInfo.InvariantCulture) | (ulong)code.Digits << 44;
}
