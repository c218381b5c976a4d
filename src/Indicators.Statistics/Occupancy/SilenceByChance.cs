namespace Indicators.Statistics.Occupancy;

/// <summary>
/// The chance that a unit's silence at the end of its visits, or at their beginning, is chance.
/// </summary>
/// <remarks>
/// Suppose the unit's visits all detect at one rate of its own, whatever it is, up to known odds ratios between visits (run,
/// date, weather). Given how many of them detected, every way of spreading the detections has a probability free of that
/// rate, as in Fisher's exact test: with equal odds, all k fall among the first m of m + n visits with probability
/// C(m, k) / C(m + n, k). "At least n silent visits at the end" is that same event, so the chance keeps its meaning when n
/// is counted from the last detection and not fixed beforehand. It compares the unit with itself and needs no estimate of
/// its rate. Nights that are alike in ways the odds do not know make it too small.
/// </remarks>
public static class SilenceByChance
{
    /// <summary>The chance that all detections fall in one part of the visits, with equal odds.</summary>
    /// <param name="detections">k, all of them in that part; at most its visits.</param>
    /// <param name="visitsWith">m, visits of the part with the detections.</param>
    /// <param name="silentVisits">n, visits of the silent part.</param>
    public static double Of(int detections, int visitsWith, int silentVisits)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(detections);
        ArgumentOutOfRangeException.ThrowIfNegative(silentVisits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(detections, visitsWith);
        double chance = 1;
        for (int i = 0; i < detections; i++)
            chance *= (double)(visitsWith - i) / (visitsWith + silentVisits - i);
        return chance;
    }

    /// <summary>The same with odds that differ between visits.</summary>
    /// <param name="detections">k, all of them in the first part.</param>
    /// <param name="oddsWith">Relative odds of detection, p / (1 − p) up to a common factor, of the visits of the part with the detections; positive.</param>
    /// <param name="oddsSilent">The same of the silent visits.</param>
    public static double Of(int detections, ReadOnlySpan<double> oddsWith, ReadOnlySpan<double> oddsSilent)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(detections);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(detections, oddsWith.Length);
        double[] odds = [.. oddsWith, .. oddsSilent];
        if (!Array.TrueForAll(odds, o => o > 0 && double.IsFinite(o))) throw new ArgumentException("Odds are positive and finite.", nameof(oddsWith));
        if (detections == 0 || oddsSilent.IsEmpty)
            return 1;

        // The answer is a ratio of elementary symmetric polynomials of degree k, and a common factor of the odds cancels. With
        // the factor that makes k the expected number, both are probabilities of a sum of independent events, well inside a
        // double's range however many visits there are.
        double factor = FactorFor(odds, detections);
        double inFirst = ChanceOfExactly(detections, oddsWith, factor), inAll = ChanceOfExactly(detections, odds, factor);
        double silent = 0;
        foreach (double o in oddsSilent)
            silent -= Math.Log(1 + factor * o);
        return Math.Min(1, inFirst / inAll * Math.Exp(silent));
    }

    private static double FactorFor(double[] odds, int detections)
    {
        if (detections == odds.Length)
            return 1 / odds.Min();
        double low = -700 - Math.Log(odds.Max()), high = 700 - Math.Log(odds.Min());
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2, factor = Math.Exp(middle), expected = 0;
            foreach (double o in odds)
                expected += 1 / (1 + 1 / (factor * o));
            if (expected < detections)
                low = middle;
            else
                high = middle;
        }
        return Math.Exp((low + high) / 2);
    }

    /// <summary>The chance of exactly k of independent events with the odds given.</summary>
    private static double ChanceOfExactly(int k, ReadOnlySpan<double> odds, double factor)
    {
        var chance = new double[k + 1];
        chance[0] = 1;
        foreach (double o in odds)
        {
            double yes = 1 / (1 + 1 / (factor * o)), no = 1 / (1 + factor * o);
            for (int i = k; i > 0; i--)
                chance[i] = chance[i] * no + chance[i - 1] * yes;
            chance[0] *= no;
        }
        return chance[k];
    }
}
