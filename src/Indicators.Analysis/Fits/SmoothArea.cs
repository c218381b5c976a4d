using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Statistics.Resampling;

namespace Indicators.Analysis.Fits;

/// <summary>The smooth courses of all species of one area, under the area's own resampling plan.</summary>
internal sealed class SmoothArea
{
    /// <summary>
    /// How many resamples at most a band rests on, whole blocks: an end of a pointwise band then has a Monte Carlo error of an eighth
    /// of the draws' standard deviation.
    /// </summary>
    public const int MostResamples = 16 * ClusterSums.Block;

    /// <summary>Keeps these normals apart from those of the season shocks.</summary>
    private const ulong StreamApart = 1UL << 56;

    private SmoothArea(SmoothSpecies?[] species, double[] normals, int resamples) =>
        (Species, Normals, Resamples) = (species, normals, resamples);

    /// <summary>One a species, in the cell table's order; null where there is no course.</summary>
    public SmoothSpecies?[] Species { get; }

    /// <summary>Standard normals at [number × resamples + resample], shared by the species, whose bands stand each for itself.</summary>
    public double[] Normals { get; }

    /// <summary>How many resamples the bands rest on.</summary>
    public int Resamples { get; }

    /// <summary>Fits an area.</summary>
    /// <param name="cells">All cells.</param>
    /// <param name="raw">The area's raw fits.</param>
    /// <param name="settings">The programme's settings.</param>
    /// <param name="run">Seed and number of resamples.</param>
    /// <param name="parallel">How many threads may work.</param>
    public static SmoothArea Of(CellTable cells, AreaFit raw, ProgrammeSettings settings, RunOptions run, ParallelOptions parallel)
    {
        int resamples = Math.Min(run.Resamples, MostResamples);
        var species = new SmoothSpecies?[raw.Species.Length];
        ulong stream = AreaFit.StreamOf(raw.Area.Representative);
        var splines = new Splines();
        var plan = new ResamplingPlan(run.Seed, stream, AreaClusters.In(cells, raw.Area).Count);
        foreach (int[] batch in SpeciesBatches.Of(species.Length, raw.Area.Stations.Length))
        {
            Parallel.ForEach(batch, parallel, k => species[k] = SmoothSpecies.Of(raw.Species[k], splines, settings.Trend, resamples));
            SmoothSpecies[] refitted = [.. batch.Select(k => species[k]).OfType<SmoothSpecies>()];
            ResampleBlock.Each(plan, resamples, parallel, () => new SmoothSpecies.Workspace?[refitted.Length], (block, work) =>
            {
                for (int i = 0; i < refitted.Length; i++)
                    refitted[i].Refit(block, work[i] ??= new SmoothSpecies.Workspace(refitted[i]));
            });
            foreach (var one in refitted)
                one.LetGo();
        }
        SmoothSpecies[] fitted = [.. species.OfType<SmoothSpecies>()];
        if (fitted.Length == 0)
            return new SmoothArea(species, [], resamples);

        var draws = new NormalDraws(run.Seed, stream | StreamApart);
        var each = new double[fitted.Max(one => one.Refits.Normals)];
        var normals = new double[each.Length * resamples];
        for (int b = 0; b < resamples; b++)
        {
            draws.Draw(b, each);
            for (int i = 0; i < each.Length; i++)
                normals[i * resamples + b] = each[i];
        }
        return new SmoothArea(species, normals, resamples);
    }
}
