using Indicators.Analysis.Options;
using Indicators.Statistics.Intervals;

namespace Indicators.Analysis.Score;

/// <summary>P(β &gt; ln(1 − τ/100)) of one species' underlying slope: the chance that it holds its own.</summary>
/// <param name="Probability">0 to 1; even odds when the slope has no interval.</param>
/// <param name="Draws">The slope's stretched draws, one a resample; null without an interval.</param>
/// <param name="Threshold">ln(1 − τ/100).</param>
internal sealed record DirectionChance(double Probability, double[]? Draws, double Threshold)
{
    private const double EvenOdds = 0.5;

    /// <summary>The chance, by the share of the draws above the threshold.</summary>
    public static DirectionChance Of(double[]? draws, double threshold, TrendOptions options)
    {
        if (draws is null)
            return new DirectionChance(EvenOdds, null, threshold);
        int kept = 0, above = 0;
        foreach (double draw in draws)
        {
            kept += double.IsNaN(draw) ? 0 : 1;
            above += draw > threshold ? 1 : 0;
        }
        return kept < (1 - options.MaximumLostShare) * draws.Length
            ? new DirectionChance(EvenOdds, null, threshold)
            : new DirectionChance((double)above / kept, draws, threshold);
    }

    /// <summary>
    /// Adds, resample by resample, what the chance would be with that resample's slope, known as well as the slope is: Φ((β*_b − threshold) / s)
    /// with s the draws' standard deviation. It rises with the slope, so that its quantiles are those of the slope put through Φ. The
    /// chance itself where a resample is lost.
    /// </summary>
    /// <param name="sum">Added to, one a resample.</param>
    /// <param name="slopes">β*, one a resample: <see cref="Draws"/>, or others of the same slope; null adds the chance itself.</param>
    public void AddTo(double[] sum, double[]? slopes)
    {
        double spread = Draws is null ? 0 : Math.Sqrt(DrawMoments.Of(Draws).Variance);
        for (int b = 0; b < sum.Length; b++)
        {
            sum[b] += Draws is null || slopes is null || double.IsNaN(slopes[b]) ? Probability
                : spread == 0 ? (slopes[b] > Threshold ? 1 : 0)
                : Quantile.NormalCdf((slopes[b] - Threshold) / spread);
        }
    }
}
