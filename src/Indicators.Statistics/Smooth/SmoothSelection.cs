using Indicators.Statistics.Fits;
using Indicators.Statistics.Panels;

namespace Indicators.Statistics.Smooth;

/// <summary>How the best λ stands in the range that was searched.</summary>
public enum SmoothingPlace
{
    /// <summary>Inside the range.</summary>
    Inside,

    /// <summary>At its stiff end: the data ask for nothing but the log-linear trend.</summary>
    StraightLine,

    /// <summary>At its free end: the data ask for the annual model.</summary>
    Annual,
}

/// <summary>A smoothing parameter that was chosen, and the curve it gives.</summary>
/// <param name="Status">Finite when there is a curve; otherwise why not, and all else is empty.</param>
/// <param name="Criterion">How λ was chosen.</param>
/// <param name="Penalty">λ, ready for refits; null without a curve.</param>
/// <param name="Place">Whether it lies inside the range searched.</param>
/// <param name="Score">
/// The criterion at λ: REML's log-likelihood up to a constant that no λ changes (greater is better), or GCV (less is better).
/// </param>
/// <param name="EffectiveDegreesOfFreedom">1 for a straight line to periods − 1 for the annual model.</param>
/// <param name="Effects">f(t), natural log scale, adding up to 0.</param>
public sealed record SmoothSelection(
    SlopeStatus Status,
    SmoothingCriterion Criterion,
    SmoothPenalty? Penalty,
    SmoothingPlace Place,
    double Score,
    double EffectiveDegreesOfFreedom,
    IReadOnlyList<double> Effects)
{
    private const double GoldenShare = 0.3819660112501051;

    /// <summary>λ times bending over information at the two ends of the range searched: of the bend hardest and easiest to make.</summary>
    private const double FreeEnd = 1e-2, StiffEnd = 1e5;

    /// <summary>Fits a panel and chooses λ: a scan one decade a step, then golden section about the best.</summary>
    /// <param name="panel">The panel, three periods at least.</param>
    /// <param name="criterion">How to choose.</param>
    /// <param name="dispersion">
    /// φ, by how much counts vary more than Poisson counts would; REML divides the log-likelihood by it. 1 or an estimate such as
    /// Pearson's. GCV does not use it.
    /// </param>
    /// <param name="tolerance">How narrow the last bracket of log λ is.</param>
    /// <param name="spline">The splines over the panel's times, where they were made before.</param>
    public static SmoothSelection Choose(
        PanelCounts panel, SmoothingCriterion criterion = SmoothingCriterion.RestrictedMaximumLikelihood, double dispersion = 1, double tolerance = 1e-3,
        NaturalSpline? spline = null)
    {
        if (!(dispersion > 0 && double.IsFinite(dispersion)))
            throw new ArgumentOutOfRangeException(nameof(dispersion), "The dispersion is positive and finite.");
        var sample = new Resample(panel);
        var fit = new SmoothFit(panel);
        spline ??= new NaturalSpline(panel.Times);
        var start = new double[panel.Periods];
        var status = SlopeStatus.Finite;
        // The criterion is flat about its fit: an error of the curve counts by its square.
        double fitTolerance = Math.Min(1e-6, 1e-3 * tolerance);

        // λ's natural unit: the information over the bending, from the easiest bend to the hardest.
        double information = Total(sample) / panel.Periods;
        if (information == 0)
            return Nothing(SlopeStatus.None, criterion);
        var penalty = SmoothFit.PenaltyFor(spline, sample, 1);
        double low = Math.Log(FreeEnd * information / spline.Bending[^1]), high = Math.Log(StiffEnd * information / spline.Bending[1]);
        int steps = (int)Math.Ceiling((high - low) / Math.Log(10));
        double step = (high - low) / steps, best = double.PositiveInfinity;
        int at = steps;
        // From the stiff end on, each curve starting from the one before.
        for (int i = steps; i >= 0; i--)
        {
            double value = Cost(low + i * step);
            if (status != SlopeStatus.Finite)
                return Nothing(status, criterion);
            if (value < best)
                (best, at) = (value, i);
        }
        double left = low + Math.Max(0, at - 1) * step, right = low + Math.Min(steps, at + 1) * step;
        double chosen = Golden(left, right);
        var place = at == steps && right - chosen < 2 * tolerance ? SmoothingPlace.StraightLine
            : at == 0 && chosen - left < 2 * tolerance ? SmoothingPlace.Annual
            : SmoothingPlace.Inside;
        penalty.Take(Math.Exp(chosen));
        fit.Fit(sample, penalty, start, 1e-11);
        var diagnostics = fit.Diagnose(sample, penalty);
        return new SmoothSelection(SlopeStatus.Finite, criterion, penalty, place, ScoreOf(fit, sample, criterion, dispersion, diagnostics), diagnostics.Freedom, fit.Effects.ToArray());

        double Cost(double logLambda)
        {
            penalty.Take(Math.Exp(logLambda));
            var result = fit.Fit(sample, penalty, IsZero(start) ? default : start, fitTolerance);
            if (result != SlopeStatus.Finite)
            {
                status = result;
                return double.PositiveInfinity;
            }
            fit.Effects.CopyTo(start);
            double value = ScoreOf(
                fit, sample, criterion, dispersion, fit.Diagnose(sample, penalty, criterion == SmoothingCriterion.GeneralisedCrossValidation));
            return double.IsNaN(value) ? double.PositiveInfinity : criterion == SmoothingCriterion.GeneralisedCrossValidation ? value : -value;
        }

        double Golden(double a, double b)
        {
            double x = a + GoldenShare * (b - a), y = b - GoldenShare * (b - a), fx = Cost(x), fy = Cost(y);
            while (b - a > tolerance)
            {
                if (fx <= fy)
                {
                    (b, y, fy) = (y, x, fx);
                    x = a + GoldenShare * (b - a);
                    fx = Cost(x);
                }
                else
                {
                    (a, x, fx) = (x, y, fy);
                    y = b - GoldenShare * (b - a);
                    fy = Cost(y);
                }
            }
            return (a + b) / 2;
        }
    }

    /// <summary>The curve at a given λ; a λ near 0 is nearly the annual model, a great one nearly the trend.</summary>
    /// <param name="panel">The panel, three periods at least.</param>
    /// <param name="lambda">λ, positive and finite.</param>
    /// <param name="criterion">Which criterion's score is reported.</param>
    /// <param name="dispersion">φ, see <see cref="Choose"/>.</param>
    public static SmoothSelection At(
        PanelCounts panel, double lambda, SmoothingCriterion criterion = SmoothingCriterion.RestrictedMaximumLikelihood, double dispersion = 1)
    {
        var sample = new Resample(panel);
        var fit = new SmoothFit(panel);
        var penalty = SmoothFit.PenaltyFor(new NaturalSpline(panel.Times), sample, lambda);
        var status = fit.Fit(sample, penalty, default, 1e-11);
        if (status != SlopeStatus.Finite)
            return Nothing(status, criterion);
        var d = fit.Diagnose(sample, penalty);
        return new SmoothSelection(status, criterion, penalty, SmoothingPlace.Inside, ScoreOf(fit, sample, criterion, dispersion, d), d.Freedom, fit.Effects.ToArray());
    }

    /// <summary>
    /// φ: by how much counts vary more than Poisson counts about their own seasons' means, Pearson's statistic of the freest curve searched
    /// over its degrees of freedom (McCullagh and Nelder 1989, section 6.2), so that no smoothing goes into it. 1 when nothing is left to
    /// estimate it from, and not below a tenth.
    /// </summary>
    /// <param name="panel">The panel, three periods at least.</param>
    /// <param name="spline">The splines over the panel's times, where they were made before.</param>
    public static double DispersionOf(PanelCounts panel, NaturalSpline? spline = null)
    {
        var sample = new Resample(panel);
        double information = Total(sample) / panel.Periods;
        if (information == 0)
            return 1;
        var fit = new SmoothFit(panel);
        spline ??= new NaturalSpline(panel.Times);
        var penalty = SmoothFit.PenaltyFor(spline, sample, FreeEnd * information / spline.Bending[^1]);
        if (fit.Fit(sample, penalty, default, 1e-6) != SlopeStatus.Finite)
            return 1;
        var left = fit.Left(sample, fit.Diagnose(sample, penalty).Freedom);
        return left.Degrees >= 1 ? Math.Max(0.1, left.Pearson / left.Degrees) : 1;
    }

    private static double ScoreOf(SmoothFit fit, Resample sample, SmoothingCriterion criterion, double dispersion, SmoothDiagnostics d) =>
        criterion == SmoothingCriterion.GeneralisedCrossValidation
            ? fit.Left(sample, d.Freedom).Gcv
            : d.PenalisedLikelihood / dispersion + d.LogDeterminants;

    private static SmoothSelection Nothing(SlopeStatus status, SmoothingCriterion criterion) =>
        new(status, criterion, null, SmoothingPlace.Inside, double.NaN, double.NaN, []);

    private static double Total(Resample sample)
    {
        double sum = 0;
        for (int t = 0; t < sample.Panel.Periods; t++)
            sum += sample.PeriodCounts[t];
        return sum;
    }

    private static bool IsZero(double[] values) => Array.TrueForAll(values, v => v == 0);
}
