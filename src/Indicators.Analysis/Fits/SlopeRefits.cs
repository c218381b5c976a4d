using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;
using Indicators.Statistics.Shocks;

namespace Indicators.Analysis.Fits;

/// <summary>What every resample gives for the slope of one species over its first seasons, and what the refits start from.</summary>
internal sealed class SlopeRefits
{
    /// <summary>The error aimed at in a resample's slope, on the log scale over the whole span.</summary>
    private const double WholeSeriesTolerance = 1e-6;

    /// <summary>
    /// The same for slopes of past seasons, which only the direction part of past scores uses: a hundredth of their spread,
    /// or less.
    /// </summary>
    private const double PastSeasonTolerance = 2e-3;

    /// <summary>
    /// How many resamples at most estimate the covariance of season residuals for the slopes of past seasons, which only the
    /// direction part of past scores uses: 500 give a variance to within 6 %. The whole series uses them all.
    /// </summary>
    private const int ResidualResamples = 500;

    private readonly TrendExpansion _expansion;
    private readonly double _tolerance;
    private readonly int _residualResamples;

    /// <summary>Room for the refits.</summary>
    /// <param name="panel">The species' panel.</param>
    /// <param name="seasons">How many seasons, from the first.</param>
    /// <param name="slope">The sample's own finite slope over them.</param>
    /// <param name="resamples">How many resamples there will be.</param>
    public SlopeRefits(PanelCounts panel, int seasons, double slope, int resamples)
        : this(panel, seasons, slope, resamples, seasons == panel.Periods)
    {
    }

    private SlopeRefits(PanelCounts panel, int seasons, double slope, int resamples, bool whole)
    {
        _tolerance = whole ? WholeSeriesTolerance : PastSeasonTolerance;
        _residualResamples = whole ? resamples : Math.Min(resamples, ResidualResamples);
        _expansion = new TrendExpansion(panel, seasons, slope);
        Residuals = SeasonResiduals.Of(panel, seasons, slope);
        SlopeDraws = new double[resamples];
        ResidualDraws = new double[seasons * _residualResamples];
    }

    /// <summary>Room for the refits of a window or of another response, as exact as those of past seasons.</summary>
    public static SlopeRefits OfWindow(PanelCounts panel, double slope, int resamples) => new(panel, panel.Periods, slope, resamples, false);

    /// <summary>The sample's own season residuals.</summary>
    public SeasonResiduals Residuals { get; }

    /// <summary>The slope of each resample.</summary>
    public double[] SlopeDraws { get; }

    /// <summary>
    /// The season residuals at [season × count + resample], where the count is that of all resamples for the whole series
    /// and may be smaller for fewer seasons.
    /// </summary>
    public double[] ResidualDraws { get; }

    /// <summary>Refits one resample and keeps what it gives.</summary>
    public void Refit(int resample, Resample sample, TrendFit trend, double[] scratch)
    {
        double slope = SlopeDraws[resample] = trend.Refit(sample, _expansion, _tolerance).Value;
        if (resample < _residualResamples)
            SeasonResiduals.OfResample(sample, _expansion.Periods, slope, scratch, ResidualDraws.AsSpan(resample), _residualResamples);
    }
}
