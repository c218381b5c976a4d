using Indicators.Statistics.Fits;

namespace Indicators.Statistics.Shocks;

/// <summary>
/// What season residuals are expected to come to under shocks that carry over from season to season, for any correlation ρ: with A how residuals answer
/// to shocks and R_tu = ρ^|t−u|, residuals have the covariance A R Aᵀ times the shocks' variance.
/// </summary>
public sealed class ShockResponse
{
    // Sums of products of answers whose shocks lie so many years apart, at the lag: of the same season's answers, and of neighbouring seasons'.
    private readonly double[] _same, _next;

    /// <summary>An answer smaller than this is rounding: a season that only stations surveyed once have answers to nothing.</summary>
    private const double Rounding = 1e-9;

    private ShockResponse(double[] same, double[] next, int telling) => (_same, _next, Telling) = (same, next, telling);

    /// <summary>How many seasons' residuals answer to shocks at all.</summary>
    public int Telling { get; }

    /// <summary>tr A R Aᵀ: Σ r_t² for shocks of variance 1.</summary>
    /// <param name="correlation">ρ, −1 to 1.</param>
    public double Squares(double correlation) => Polynomial(_same, correlation);

    /// <summary>tr A R Aᵀ from what is kept of A.</summary>
    /// <param name="byLag"><see cref="SquaresByLag"/>.</param>
    /// <param name="correlation">ρ, −1 to 1.</param>
    public static double Squares(IReadOnlyList<double> byLag, double correlation) => Polynomial([.. byLag], correlation);

    /// <summary>tr A R Aᵀ as a polynomial in ρ: its coefficients from that of ρ⁰ on, one for every number of years between two shocks.</summary>
    public IReadOnlyList<double> SquaresByLag => _same;

    /// <summary>Σ r_t r_u for shocks of variance 1, over seasons t and u = t + 1; 0 where no two seasons lie so near.</summary>
    /// <param name="correlation">ρ, −1 to 1.</param>
    public double Neighbours(double correlation) => Polynomial(_next, correlation);

    /// <summary>Sums the answers.</summary>
    /// <param name="answers">A, row after row; a row of zeros for a season without a residual.</param>
    /// <param name="times">The seasons in years, ascending; as many as A has rows.</param>
    internal static ShockResponse Of(double[] answers, ReadOnlySpan<double> times)
    {
        int periods = times.Length;
        double[] same = new double[periods * periods], next = new double[periods * periods];
        for (int t = 0; t < periods; t++)
        {
            var row = answers.AsSpan(t * periods, periods);
            Span<double> after = t + 1 < periods && Years(times, t, t + 1) == 1 ? answers.AsSpan((t + 1) * periods, periods) : default;
            for (int u = 0; u < periods; u++)
            {
                ScaledSum.Add(row, row[u], same.AsSpan(u * periods, periods));
                if (!after.IsEmpty)
                    ScaledSum.Add(after, row[u], next.AsSpan(u * periods, periods));
            }
        }
        int telling = Enumerable.Range(0, periods).Count(t => answers.AsSpan(t * periods, periods).ContainsAnyExceptInRange(-Rounding, Rounding));
        return new ShockResponse(ByLag(same, times), ByLag(next, times), telling);
    }

    private static double[] ByLag(double[] products, ReadOnlySpan<double> times)
    {
        var sums = new double[Years(times, 0, times.Length - 1) + 1];
        for (int u = 0; u < times.Length; u++)
            for (int v = 0; v < times.Length; v++)
                sums[Years(times, Math.Min(u, v), Math.Max(u, v))] += products[u * times.Length + v];
        return sums;
    }

    private static int Years(ReadOnlySpan<double> times, int from, int to) => (int)Math.Round(times[to] - times[from]);

    private static double Polynomial(double[] coefficients, double at)
    {
        double sum = 0;
        for (int i = coefficients.Length - 1; i >= 0; i--)
            sum = sum * at + coefficients[i];
        return sum;
    }
}
