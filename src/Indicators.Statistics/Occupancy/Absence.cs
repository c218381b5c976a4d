namespace Indicators.Statistics.Occupancy;

/// <summary>How many visits it takes to a whole number.</summary>
/// <param name="Exact">ln α / ln(1 − p).</param>
/// <param name="Whole">The next whole number of visits, at least 1.</param>
public readonly record struct VisitsNeeded(double Exact, int Whole);

/// <summary>What silence says: how many silent visits it takes, and the chance of presence after them.</summary>
/// <remarks>
/// Kéry 2002, "Inferring the absence of a species: a case study of snakes", for the number of visits; Bayes' rule for the
/// chance of presence (Wintle et al. 2012, "Designing occupancy surveys and interpreting non-detection when observations
/// are imperfect"). All of it takes visits to be independent given presence: nights alike in a way that p does not know
/// make silence mean less.
/// </remarks>
public static class Absence
{
    /// <summary>How far above a whole number the exact value may be and still be that number: rounding of the logarithms.</summary>
    private const double Rounding = 1e-9;

    /// <summary>
    /// The fewest silent visits after which an occupied site would have been missed with probability α at most.
    /// </summary>
    /// <param name="p">The chance that a visit detects, 0 to 1.</param>
    /// <param name="alpha">The allowed chance of missing, above 0 and below 1.</param>
    /// <returns>Null when p is 0, or so small that the number of visits is beyond counting.</returns>
    public static VisitsNeeded? VisitsFor(double p, double alpha)
    {
        if (!(p >= 0 && p <= 1)) throw new ArgumentOutOfRangeException(nameof(p));
        if (!(alpha > 0 && alpha < 1)) throw new ArgumentOutOfRangeException(nameof(alpha));
        double logMissed = p < 1 ? Log1p(-p) : double.NegativeInfinity;
        double exact = Math.Log(alpha) / logMissed;
        if (!(exact < int.MaxValue))
            return null;
        return new VisitsNeeded(exact, Math.Max(1, (int)Math.Ceiling(exact * (1 - Rounding))));
    }

    /// <summary>The same when visits differ: how many, taken in the order given and over again from its start.</summary>
    /// <param name="p">The chance that each visit detects, such as one of every run of a season.</param>
    /// <param name="alpha">The allowed chance of missing, above 0 and below 1.</param>
    /// <returns>Null when no visit ever detects, or the number is beyond counting.</returns>
    public static int? VisitsFor(ReadOnlySpan<double> p, double alpha)
    {
        if (!(alpha > 0 && alpha < 1)) throw new ArgumentOutOfRangeException(nameof(alpha));
        double round = LogSilence(p), target = Math.Log(alpha) * (1 - Rounding);
        if (round == 0)
            return null;
        double rounds = double.IsNegativeInfinity(round) ? 0 : Math.Max(0, Math.Ceiling(target / round) - 1);
        if (!(rounds * p.Length < int.MaxValue - p.Length))
            return null;
        int visits = (int)rounds * p.Length;
        double sum = rounds == 0 ? 0 : rounds * round;
        for (int i = 0; ; i = (i + 1) % p.Length)
        {
            sum += Log1p(-p[i]);
            visits++;
            if (sum <= target)
                return visits;
        }
    }

    /// <summary>The chance that an occupied site stays silent over visits: Π(1 − p_j).</summary>
    /// <param name="p">The chance that each visit detects.</param>
    public static double Silence(ReadOnlySpan<double> p) => Math.Exp(LogSilence(p));

    /// <summary>
    /// The chance that a site is occupied after silent visits: ψΠ(1 − p_j) / (1 − ψ + ψΠ(1 − p_j)); 1 after a detection.
    /// </summary>
    /// <param name="psi">The chance before the visits, 0 to 1.</param>
    /// <param name="p">The chance that each visit detects.</param>
    /// <param name="detected">Whether any of the visits detected.</param>
    public static double ChancePresent(double psi, ReadOnlySpan<double> p, bool detected = false)
    {
        if (!(psi >= 0 && psi <= 1)) throw new ArgumentOutOfRangeException(nameof(psi));
        if (detected)
            return 1;
        double missed = psi * Silence(p);
        // Occupied for certain, and every visit certain to detect: the silence cannot have happened.
        return missed == 0 ? 0 : missed / (1 - psi + missed);
    }

    private static double LogSilence(ReadOnlySpan<double> p)
    {
        double sum = 0;
        foreach (double value in p)
        {
            if (!(value >= 0 && value <= 1)) throw new ArgumentOutOfRangeException(nameof(p));
            sum += Log1p(-value);
        }
        return sum;
    }

    /// <summary>ln(1 + x) for −1 ≤ x ≤ 0 without loss for small x (the classical correction by the rounding of 1 + x).</summary>
    private static double Log1p(double x)
    {
        double u = 1 + x;
        return u == 1 ? x : u == 0 ? double.NegativeInfinity : Math.Log(u) * (x / (u - 1));
    }
}
