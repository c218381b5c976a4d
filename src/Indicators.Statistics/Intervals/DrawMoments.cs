namespace Indicators.Statistics.Intervals;

/// <summary>The mean and variance of bootstrap draws of one quantity; lost and infinite draws left out.</summary>
/// <param name="Mean">The mean of the finite draws; NaN without one.</param>
/// <param name="Variance">Their sample variance, n − 1 in the denominator; 0 with fewer than two.</param>
public readonly record struct DrawMoments(double Mean, double Variance)
{
    /// <summary>The moments of the finite draws.</summary>
    public static DrawMoments Of(ReadOnlySpan<double> draws)
    {
        double sum = 0, squares = 0;
        int count = 0;
        foreach (double draw in draws)
            if (double.IsFinite(draw)) (sum, count) = (sum + draw, count + 1);
        double mean = sum / count;
        foreach (double draw in draws)
            if (double.IsFinite(draw)) squares += (draw - mean) * (draw - mean);
        return new DrawMoments(mean, count < 2 ? 0 : squares / (count - 1));
    }

    /// <summary>
    /// Moves draws so that their mean is the estimate: once the bias that the bootstrap reckons with (Efron and Tibshirani 1993, section 10.2)
    /// is taken out of them, their shape kept. Without a finite draw nothing moves.
    /// </summary>
    public static void Centre(Span<double> draws, double estimate)
    {
        double apart = Of(draws).Mean - estimate;
        if (!double.IsFinite(apart))
            return;
        for (int b = 0; b < draws.Length; b++)
            draws[b] -= apart;
    }
}
