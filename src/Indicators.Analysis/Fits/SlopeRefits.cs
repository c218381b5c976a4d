using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>What the resamples give for one slope of one species.</summary>
internal sealed class SlopeRefits
{
    /// <summary>The error aimed at in a resample's slope over the whole series, on the log scale over the whole span.</summary>
    public const double WholeSeriesTolerance = 1e-6;

    /// <summary>The same for slopes of past seasons, of windows and of other responses: a hundredth of their spread, or less.</summary>
    public const double OtherTolerance = 2e-3;

    /// <summary>
    /// How many resamples at most estimate the spread of season residuals of windows and other responses: 200 give each
    /// season's variance to within 10 %, their sum over seasons to within 5 %. The whole series uses them all.
    /// </summary>
    private const int WindowResiduals = 200;

    /// <summary>
    /// More clusters than this are folded into as many: a variance then has a relative error of √(2/1024), 4 %, like that of a
    /// thousand resamples.
    /// </summary>
    private const int MostInfluences = 1024;

    private TrendExpansion? _expansion;

    private SlopeRefits(SlopeToRefit slope, int resamples, int residualResamples)
    {
        Residuals = SeasonResiduals.Of(slope.Panel, slope.Periods, slope.Slope);
        ResidualResamples = residualResamples;
        ResidualDraws = residualResamples > 0
            ? new double[slope.Periods * residualResamples]
            : Influence(slope.Panel, slope.Periods, slope.Slope);
        SlopeDraws = new double[resamples];
        _expansion = residualResamples > 0 ? new TrendExpansion(slope.Panel, slope.Periods, slope.Slope) : null;
    }

    /// <summary>Room for the refits over the whole series.</summary>
    /// <param name="slope">The slope.</param>
    /// <param name="resamples">How many resamples there will be.</param>
    public static SlopeRefits OfSeries(SlopeToRefit slope, int resamples) => new(slope, resamples, resamples);

    /// <summary>Room for the refits of a window or another response.</summary>
    /// <param name="slope">The slope.</param>
    /// <param name="resamples">How many resamples there will be.</param>
    public static SlopeRefits OfWindow(SlopeToRefit slope, int resamples) => new(slope, resamples, Math.Min(resamples, WindowResiduals));

    /// <summary>
    /// Room for the refits over the first seasons, which only the direction part of past scores uses: their season residuals
    /// are not resampled; their spread is the infinitesimal jackknife's.
    /// </summary>
    /// <param name="slope">The slope.</param>
    /// <param name="resamples">How many resamples there will be.</param>
    public static SlopeRefits OfFirstSeasons(SlopeToRefit slope, int resamples) => new(slope, resamples, 0);

    /// <summary>How many resamples' residuals are kept.</summary>
    public int ResidualResamples { get; }

    /// <summary>The sample's own season residuals.</summary>
    public SeasonResiduals Residuals { get; }

    /// <summary>The slope of each resample.</summary>
    public double[] SlopeDraws { get; }

    /// <summary>Draws of the season residuals, season after season, as many each: over resamples, or as the jackknife has them over clusters.</summary>
    public double[] ResidualDraws { get; }

    /// <summary>The season residuals as the jackknife has them, as <see cref="ResidualDraws"/> of first seasons are.</summary>
    public double[] Influence(PanelCounts panel, int periods, double slope) => Residuals.Influence(panel, periods, slope, MostInfluences);

    /// <summary>Lets go of what only the resamples needed.</summary>
    public void LetGo() => _expansion = null;

    /// <summary>Refits one resample of a whole series and keeps what it gives.</summary>
    public void Refit(int resample, Resample sample, TrendFit trend, double[] scratch)
    {
        SlopeDraws[resample] = trend.Refit(sample, _expansion!, WholeSeriesTolerance).Value;
        KeepResiduals(resample, sample, scratch);
    }

    /// <summary>Keeps the residuals of one resample about its slope.</summary>
    public void KeepResiduals(int resample, Resample sample, double[] scratch) =>
        SeasonResiduals.OfResample(sample, _expansion!.Periods, SlopeDraws[resample], scratch, ResidualDraws.AsSpan(resample), ResidualResamples);
}
