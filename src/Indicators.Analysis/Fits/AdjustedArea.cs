using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Statistics.Resampling;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>
/// The adjusted trends of all species of one area, under the area's own resampling plan: the resamples are those of the raw trends.
/// Blocks of resamples write their own places, so the number of threads changes nothing.
/// </summary>
internal sealed class AdjustedArea
{
    private readonly double[]?[] _underlying;
    private readonly double[] _seasonSd;

    private AdjustedArea(AdjustedSpecies[] species, double[]?[] underlying, double[] seasonSd, double carryOver) =>
        (Species, _underlying, _seasonSd, CarryOver) = (species, underlying, seasonSd, carryOver);

    /// <summary>One a species, in the cell table's order.</summary>
    public AdjustedSpecies[] Species { get; }

    /// <summary>Stretched draws of a species' underlying slope; null where none is promised.</summary>
    public double[]? Underlying(int species) => _underlying[species];

    /// <summary>The estimated standard deviation of a species' shared season shocks; NaN without draws.</summary>
    public double SeasonSd(int species) => _seasonSd[species];

    /// <summary>ρ: how alike shocks of one season and the next were taken to be; NaN without draws.</summary>
    public double CarryOver { get; }

    /// <summary>Fits an area.</summary>
    /// <param name="cells">All cells.</param>
    /// <param name="covariates">The visits' covariates.</param>
    /// <param name="raw">The area's raw fits. The shocks are drawn with the same normals on purpose: two models should not differ by chance.</param>
    /// <param name="settings">The programme's settings.</param>
    /// <param name="run">Seed and number of resamples.</param>
    /// <param name="parallel">How many threads may work.</param>
    public static AdjustedArea Of(
        CellTable cells, VisitCovariates covariates, AreaFit raw, ProgrammeSettings settings, RunOptions run, ParallelOptions parallel)
    {
        var area = raw.Area;
        var clusters = AreaClusters.In(cells, area);
        var (one, two, three) = settings.Response.Of(settings.Response.Kind);
        double[] weights = [0, one, two, three];
        var species = new AdjustedSpecies[cells.Species.Count];
        ulong stream = AreaFit.StreamOf(area.Representative);
        var plan = new ResamplingPlan(run.Seed, stream, clusters.Count);
        foreach (int[] batch in SpeciesBatches.Of(species.Length, area.Stations.Length))
        {
            Parallel.ForEach(batch, parallel, k =>
                species[k] = AdjustedSpecies.Of(
                    AdjustedSeries.Gather(cells, covariates, area, k, clusters, weights), settings.Trend, run.Resamples));
            AdjustedSpecies[] refitted = [.. batch.Select(k => species[k]).Where(one => one.Residuals is not null)];
            ResampleBlock.Each(plan, run.Resamples, parallel, () => new AdjustedSpecies.Workspace?[refitted.Length], (block, work) =>
            {
                for (int i = 0; i < refitted.Length; i++)
                    refitted[i].Refit(block, work[i] ??= new AdjustedSpecies.Workspace(refitted[i]));
            });
            foreach (int k in batch)
                species[k].LetGo();
        }

        int[] fitted = [.. Enumerable.Range(0, species.Length).Where(k => species[k].Residuals is not null)];
        var underlying = new double[]?[species.Length];
        double[] seasonSd = [.. Enumerable.Repeat(double.NaN, species.Length)];
        if (fitted.Length == 0)
            return new AdjustedArea(species, underlying, seasonSd, double.NaN);

        var slopes = new UnderlyingSlopes([.. fitted.Select(k => species[k].ToShockSeries())], UnderlyingFit.Normals(new NormalDraws(run.Seed, stream), fitted.Length, run.Resamples, parallel));
        for (int i = 0; i < fitted.Length; i++)
        {
            underlying[fitted[i]] = slopes.Draws(i, settings.Trend.Confidence);
            seasonSd[fitted[i]] = slopes.SeasonSd(i);
        }
        return new AdjustedArea(species, underlying, seasonSd, slopes.CarryOver);
    }
}
