using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Shocks;

/// <summary>
/// How alike the shocks of two seasons are taken to be: ρ to the power of the years between them.
/// </summary>
/// <remarks>
/// One wet spring often follows another, and one series of 10 or 20 seasons can hardly tell how strongly; all series of an area together tell a little more. A
/// range that reckons with too little holds far too seldom, one that reckons with too much is merely wide. So ρ is the estimate and a margin beyond, between bounds (ours,
/// chosen in worlds of its own, docs/coverage.md).
/// </remarks>
public static class SeasonCarryOver
{
    /// <summary>What is taken where nothing can be told; about what several species come to, margin and all, where springs do not last.</summary>
    public const double Untold = 0.2;

    /// <summary>How far beyond the estimate ρ is taken, and its bounds.</summary>
    private const double Margin = 0.15, Least = 0.1, Most = 0.8;

    /// <summary>The estimate's own bounds, and the points in between at which evidence is kept.</summary>
    private const double Lowest = Least - Margin, Highest = Most - Margin, Step = (Highest - Lowest) / (Points - 1);
    private const int Points = 15;

    /// <summary>Of an interval 0.7 wide: what is left is far below what any range feels.</summary>
    private const int Halvings = 40;

    /// <summary>
    /// ρ for series that share it: where Σ_k w_k (n_k − s_k N_k(ρ) / S_k(ρ)) is 0, s_k = Σ_t r_t² and n_k = Σ_t r_t r_{t+1} less what resampling alone
    /// makes of them, S_k and N_k what they are per unit variance of shocks (<see cref="ShockResponse"/>), w_k = 1 / Σ_t r_t²; and the margin beyond.
    /// </summary>
    /// <param name="series">At least one.</param>
    /// <param name="squares">s_k.</param>
    /// <returns>0.1 to 0.8; <see cref="Untold"/> where no shocks show or no two seasons are neighbours.</returns>
    internal static double Of(IReadOnlyList<ShockSeries> series, Vector<double> squares)
    {
        var (shown, left) = LeftOver(series, squares);
        return shown > 0 ? Root(left) + Margin : Untold;
    }

    /// <summary>
    /// What several sets of series, areas beside each other, come to together: the ρ at which what their evidence adds up to is 0, and the margin beyond. Setting by
    /// setting, short series would often meet a bound, and the mean of such values tells less.
    /// </summary>
    /// <param name="evidence">What <see cref="Evidence"/> made of each; at least one.</param>
    /// <returns>0.1 to 0.8; <see cref="Untold"/> where together they show no shocks.</returns>
    public static double Together(IEnumerable<IReadOnlyList<double>> evidence)
    {
        var sums = new double[Points + 1];
        foreach (var one in evidence)
            for (int i = 0; i < sums.Length; i++)
                sums[i] += one[i];
        if (sums[Points] <= 0)
            return Untold;
        // Straight lines between the points: what is left is nearly one.
        return Margin + Root(correlation =>
        {
            double at = (correlation - Lowest) / Step;
            int i = Math.Clamp((int)at, 0, Points - 2);
            return sums[i] + (at - i) * (sums[i + 1] - sums[i]);
        });
    }

    /// <summary>
    /// What the equation for ρ has left at values from the lowest to the highest, and last how much of shocks shows: added over sets of series it says what they come to together.
    /// A set in which less than nothing shows counts as well; left out, the others would seem to show more than they do.
    /// </summary>
    internal static double[] Evidence(IReadOnlyList<ShockSeries> series, Vector<double> squares)
    {
        var (shown, left) = LeftOver(series, squares);
        return [.. Enumerable.Range(0, Points).Select(i => left(Lowest + i * Step)), shown];
    }

    /// <summary>Nothing known: no evidence at any value.</summary>
    public static IReadOnlyList<double> NoEvidence { get; } = new double[Points + 1];

    private static double Root(Func<double, double> left)
    {
        double low = Lowest, high = Highest;
        if (left(low) <= 0)
            return low;
        if (left(high) >= 0)
            return high;
        for (int i = 0; i < Halvings; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = left(middle) > 0 ? (middle, high) : (low, middle);
        }
        return (low + high) / 2;
    }

    /// <summary>How much of shocks shows in all the series, 0 where no two seasons are neighbours, and what the equation has left at a ρ.</summary>
    private static (double Shown, Func<double, double> Left) LeftOver(IReadOnlyList<ShockSeries> series, Vector<double> squares)
    {
        double[] shown = new double[series.Count], neighbours = new double[series.Count];
        for (int k = 0; k < series.Count; k++)
        {
            double whole = series[k].Residuals.Residuals.Sum(r => r * r);
            if (whole > 0)
                (shown[k], neighbours[k]) = (squares[k] / whole, series[k].SharedWithNeighbours() / whole);
        }
        double Left(double correlation)
        {
            double left = 0;
            for (int k = 0; k < shown.Length; k++)
            {
                var response = series[k].Residuals.Response;
                if (shown[k] != 0)
                    left += neighbours[k] - shown[k] * response.Neighbours(correlation) / response.Squares(correlation);
            }
            return left;
        }

        return (series.All(one => one.Residuals.Response.Neighbours(0) == 0) ? 0 : shown.Sum(), Left);
    }

    /// <summary>
    /// How much larger the variance by shocks is reckoned than it is where shocks are independent, seasons evenly weighted and ρ as where nothing can be told:
    /// (h′Rh / h′h) (‖A‖² / tr A R Aᵀ) with A what is left of seasons about a straight line.
    /// </summary>
    /// <param name="seasons">How many, 3 or more.</param>
    public static double Widening(int seasons)
    {
        double[] times = [.. Enumerable.Range(0, seasons).Select(t => t - (seasons - 1) / 2.0)], answers = new double[seasons * seasons];
        int[] periods = [.. Enumerable.Range(0, seasons)];
        double squares = times.Sum(d => d * d);
        for (int t = 0; t < seasons; t++)
            for (int u = 0; u < seasons; u++)
                answers[t * seasons + u] = (t == u ? 1 : 0) - 1.0 / seasons - times[t] * times[u] / squares;
        return Form(times, periods, times, periods, Untold) / squares * (seasons - 2) / ShockResponse.Of(answers, times).Squares(Untold);
    }

    /// <summary>h′ R g for two series' leverages.</summary>
    /// <param name="one">h, one a period.</param>
    /// <param name="onePeriods">Its seasons, in whole years, ascending.</param>
    /// <param name="other">g.</param>
    /// <param name="otherPeriods">Its seasons, ascending.</param>
    /// <param name="correlation">ρ, 0 to 1.</param>
    public static double Form(ReadOnlySpan<double> one, ReadOnlySpan<int> onePeriods, ReadOnlySpan<double> other, ReadOnlySpan<int> otherPeriods, double correlation)
    {
        // From season to season of both together: what of the seasons before still counts dies away.
        double sum = 0, h = 0, g = 0;
        for (int t = 0, u = 0, before = 0; t < onePeriods.Length || u < otherPeriods.Length;)
        {
            int mine = t < onePeriods.Length ? onePeriods[t] : int.MaxValue, its = u < otherPeriods.Length ? otherPeriods[u] : int.MaxValue;
            int season = Math.Min(mine, its), apart = season - before;
            double left = t + u == 0 ? 0 : apart == 1 ? correlation : Math.Pow(correlation, apart), a = mine == season ? one[t++] : 0, b = its == season ? other[u++] : 0;
            (h, g) = (h * left, g * left);
            sum += a * g + b * h + a * b;
            (h, g, before) = (h + a, g + b, season);
        }
        return sum;
    }

    /// <summary>How far two linear forms of the same shocks go together, −1 to 1; 1 where one of them does not hang on shocks at all.</summary>
    /// <param name="one">h.</param>
    /// <param name="onePeriods">Its seasons.</param>
    /// <param name="other">g.</param>
    /// <param name="otherPeriods">Its seasons.</param>
    /// <param name="correlation">ρ, 0 to 1.</param>
    public static double CorrelationOf(
        ReadOnlySpan<double> one, ReadOnlySpan<int> onePeriods, ReadOnlySpan<double> other, ReadOnlySpan<int> otherPeriods, double correlation)
    {
        double norms = Form(one, onePeriods, one, onePeriods, correlation) * Form(other, otherPeriods, other, otherPeriods, correlation);
        return norms > 0 ? Math.Clamp(Form(one, onePeriods, other, otherPeriods, correlation) / Math.Sqrt(norms), -1, 1) : 1;
    }
}
