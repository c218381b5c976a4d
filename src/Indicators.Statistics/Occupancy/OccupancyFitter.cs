using Indicators.Statistics.Fits;
using MathNet.Numerics.LinearAlgebra;

namespace Indicators.Statistics.Occupancy;

/// <summary>From histories to a fit: several starts, the best one polished, and what its curvature says.</summary>
internal static class OccupancyFitter
{
    /// <summary>A start's search stops when no parameter moves by more; enough to tell which maximum is the highest.</summary>
    private const double Loose = 1e-2;

    /// <summary>The last step of the best start; Newton's method squares it.</summary>
    private const double Tight = 1e-9;

    /// <summary>Log-likelihoods nearer than this count as the same maximum.</summary>
    private const double SameMaximum = 0.01;

    /// <summary>
    /// The smallest share of the complete information that must be observed in every direction: below it a standard error
    /// would be ten thousand times that of known states, which is no estimate.
    /// </summary>
    private const double SmallestShare = 1e-8;

    /// <summary>The same where a search has not settled.</summary>
    private const double RidgeShare = 1e-3;

    /// <summary>
    /// Where every standard error is below this, on the logit, the first start's maximum is taken for the only one. Ours: of
    /// 12,700 invented worlds like that, no other start found a higher one in any.
    /// </summary>
    private const double Sharp = 1;

    /// <summary>The same where some probability is held at 0 or 1: of 680 such worlds none had a higher one, further up a few.</summary>
    private const double SharpAtBoundary = 0.4;

    /// <summary>Rates of change below this are also tried at 0.</summary>
    private const double SmallRate = 0.1;

    /// <summary>How much lower in log-likelihood such a beginning may lie to be climbed from. Ours.</summary>
    private const double WorthAClimb = 3;

    /// <summary>Initial occupancy, detection (0: from the data), colonisation and extinction to start from. Ours, spread over what is plausible.</summary>
    private static readonly (double Psi, double P, double Colonise, double Vanish)[] Beginnings =
        [(0, 0, 0.15, 0.15), (0.5, 0.3, 0.2, 0.2), (0.85, 0.15, 0.05, 0.05), (0.3, 0.7, 0.4, 0.4), (0.9, 0.5, 0.01, 0.01)];

    public static OccupancyFit Fit(DetectionHistories data, TransitionGroups groups)
    {
        var likelihood = new OccupancyLikelihood(data, groups);
        var layout = likelihood.Layout;
        double detections = data.RowDetections.Sum();
        if (detections == 0)
            return Without(OccupancyStatus.NeverDetected, layout, groups, 0, 0, 0, 0);

        var searches = new List<OccupancyMaximum>();
        int iterations = 0;
        OccupancyMaximum? best = null;
        foreach (var beginning in Beginnings)
        {
            // Only a failure of all starts is a failure: one that did not settle may still be polished if it is the highest.
            var search = Begin(likelihood, beginning);
            bool settled = search.Climb(Loose);
            searches.Add(search);
            iterations += search.Iterations;
            if (double.IsFinite(search.Value) && (best is null || search.Value > best.Value))
                best = search;
            if (searches.Count == 1 && settled && IsSharp(likelihood, search))
                break;
        }
        if (best is null)
            return Without(OccupancyStatus.NotConverged, layout, groups, 0, iterations, searches.Count, 0);
        foreach (var search in searches.Count == 1 ? [] : OnFaces(likelihood, best))
        {
            search.Climb(Loose);
            searches.Add(search);
            iterations += search.Iterations;
            if (double.IsFinite(search.Value) && search.Value > best.Value)
                best = search;
        }
        int before = best.Iterations;
        bool converged = best.Climb(Tight);
        iterations += best.Iterations - before;
        int atMaximum = searches.Count(s => s.Value >= best.Value - SameMaximum);
        if (best.RanAway)
            return Without(OccupancyStatus.Separated, layout, groups, best.Value, iterations, searches.Count, atMaximum);
        if (!converged)
        {
            // A search that crawls along a ridge has no maximum worth the name: that is the data's doing, not the search's.
            likelihood.Derivatives(best.Point);
            var unsettled = new EstimateStatus[layout.Count];
            MarkUndetermined(likelihood, FreePlaces(likelihood, best), unsettled, RidgeShare);
            bool ridge = unsettled.Contains(EstimateStatus.NotEstimable);
            return Without(ridge ? OccupancyStatus.NotIdentified : OccupancyStatus.NotConverged, layout, groups, best.Value, iterations, searches.Count, atMaximum);
        }
        return Describe(likelihood, groups, best, iterations, searches.Count, atMaximum);
    }

    /// <summary>The profile log-likelihood: the highest with one parameter held at a value, warm-started; NaN when the search does not settle.</summary>
    public static double Profile(OccupancyMaximum search, int place, double value)
    {
        for (int j = 0; j < search.Point.Length; j++)
        {
            // What ran to infinity with the parameter free may come back when it is held.
            if (search.Holds[j] is not (Hold.AtZero or Hold.AtOne) || j == place)
                continue;
            search.Holds[j] = Hold.Free;
            search.Point[j] = Math.CopySign(6, search.Point[j]);
        }
        HoldUndetectedSlots(search, search.Data);
        (search.Point[place], search.Holds[place]) = (value, Hold.Given);
        return search.Climb(1e-6) ? search.Value : double.NaN;
    }

    /// <summary>A search standing at a fit's estimates.</summary>
    public static OccupancyMaximum At(OccupancyLikelihood likelihood, OccupancyFit fit)
    {
        var search = Begin(likelihood, Beginnings[0]);
        fit.Point.CopyTo(search.Point);
        for (int j = 0; j < search.Point.Length; j++)
            search.Holds[j] = double.IsNegativeInfinity(search.Point[j]) ? Hold.AtZero : double.IsPositiveInfinity(search.Point[j]) ? Hold.AtOne : search.Holds[j];
        return search;
    }

    private static OccupancyMaximum Begin(OccupancyLikelihood likelihood, (double Psi, double P, double Colonise, double Vanish) start)
    {
        var (data, layout) = (likelihood.Data, likelihood.Layout);
        var search = new OccupancyMaximum(likelihood);
        double psi = start.Psi > 0 ? start.Psi : Math.Clamp(1.1 * ShareDetected(data), 0.1, 0.9);
        search.Point[0] = Logistic.Logit(psi);
        search.Point.AsSpan(layout.FirstColonisation, layout.Colonisations).Fill(Logistic.Logit(start.Colonise));
        search.Point.AsSpan(layout.FirstExtinction, layout.Extinctions).Fill(Logistic.Logit(start.Vanish));
        for (int slot = 0; slot < layout.Slots; slot++)
            search.Point[layout.FirstDetection + slot] = Logistic.Logit(start.P > 0 ? start.P : Math.Clamp(0.8 * ShareOfVisits(data, slot), 0.05, 0.9));
        HoldUndetectedSlots(search, data);
        return search;
    }

    /// <summary>
    /// Searches from a maximum's own values with colonisation, extinction or both put at 0, where they are free and small: a likelihood can have one peak with next to nothing coming and
    /// going and a higher one with nothing at all, so near that searches from further off all end at the first. Where much would be lost before anything else has moved, none is begun.
    /// </summary>
    private static IEnumerable<OccupancyMaximum> OnFaces(OccupancyLikelihood likelihood, OccupancyMaximum best)
    {
        var layout = likelihood.Layout;
        int[] colonisation = Small(layout.FirstColonisation, layout.Colonisations), extinction = Small(layout.FirstExtinction, layout.Extinctions);
        int[][] faces = [colonisation, extinction, [.. colonisation, .. extinction]];
        foreach (int[] face in colonisation.Length == 0 || extinction.Length == 0 ? faces[..2] : faces)
        {
            if (face.Length == 0)
                continue;
            var search = new OccupancyMaximum(likelihood);
            best.Point.CopyTo(search.Point, 0);
            best.Holds.CopyTo(search.Holds, 0);
            foreach (int place in face)
                (search.Point[place], search.Holds[place]) = (double.NegativeInfinity, Hold.AtZero);
            if (likelihood.Value(search.Point) > best.Value - WorthAClimb)
                yield return search;
        }

        int[] Small(int first, int count) =>
            [.. Enumerable.Range(first, count).Where(j => best.Holds[j] == Hold.Free && best.Point[j] < Logistic.Logit(SmallRate))];
    }

    /// <summary>
    /// A slot that never detects anything has p = 0 at the maximum whatever else: its visits can then never tell. One that was
    /// never visited says nothing.
    /// </summary>
    private static void HoldUndetectedSlots(OccupancyMaximum search, DetectionHistories data)
    {
        int first = search.Point.Length - data.VisitCovariates - data.Slots;
        for (int slot = 0; slot < data.Slots; slot++)
        {
            var (detections, visits) = Totals(data, slot, known: false);
            if (detections > 0)
                continue;
            search.Holds[first + slot] = visits > 0 ? Hold.AtZero : Hold.Untouched;
            search.Point[first + slot] = visits > 0 ? double.NegativeInfinity : 0;
        }
    }

    private static (double Detections, double Visits) Totals(DetectionHistories data, int slot, bool known)
    {
        double detections = 0, visits = 0;
        for (int r = 0; r < data.RowSlots.Length; r++)
        {
            if (data.RowSlots[r] != slot)
                continue;
            detections += data.RowDetections[r];
            visits += known ? data.RowDetections[r] + data.RowKnownMisses[r] : data.RowVisits[r];
        }
        return (detections, visits);
    }

    private static double ShareOfVisits(DetectionHistories data, int slot)
    {
        var (detections, visits) = Totals(data, slot, known: true);
        return visits > 0 ? detections / visits : 0.3;
    }

    private static double ShareDetected(DetectionHistories data)
    {
        double detected = 0, all = 0;
        for (int i = 0; i < data.Patterns; i++)
        {
            var kinds = data.Pieces.Kinds.AsSpan(data.Pieces.StepStart[i]..data.Pieces.StepStart[i + 1]);
            all += data.SitesBeginning(i);
            detected += kinds.Contains(StepKind.Detected) ? data.SitesBeginning(i) : 0;
        }
        return detected / all;
    }

    private static OccupancyFit Describe(
        OccupancyLikelihood likelihood, TransitionGroups groups, OccupancyMaximum best, int iterations, int starts, int atMaximum)
    {
        var layout = likelihood.Layout;
        int count = layout.Count;
        likelihood.Derivatives(best.Point);
        int[] free = FreePlaces(likelihood, best);
        var status = new EstimateStatus[count];
        for (int j = 0; j < count; j++)
        {
            status[j] = best.Holds[j] switch
            {
                Hold.AtZero => EstimateStatus.AtZero,
                Hold.AtOne => EstimateStatus.AtOne,
                _ => free.Contains(j) ? EstimateStatus.Interior : EstimateStatus.NotEstimable,
            };
        }
        MarkUndetermined(likelihood, free, status, SmallestShare);
        bool determined = status.All(s => s != EstimateStatus.NotEstimable);
        double[]? covariance = status.Any(s => s == EstimateStatus.Interior) ? Invert(likelihood, status) : null;
        var (mean, gradient) = MeanInitial(likelihood, best.Point);
        return new OccupancyFit(
            !determined ? OccupancyStatus.NotIdentified : status.All(s => s == EstimateStatus.Interior) ? OccupancyStatus.Interior : OccupancyStatus.Boundary,
            layout, groups, best.Value, best.Point,
            [.. Enumerable.Range(0, count).Select(j => new OccupancyParameter(
                layout.KindOf(j), IndexOf(layout, j), status[j],
                status[j] == EstimateStatus.NotEstimable ? null : best.Point[j],
                status[j] == EstimateStatus.Interior && covariance is not null ? Math.Sqrt(covariance[j * count + j]) : null))],
            covariance, mean, gradient, iterations, starts, atMaximum);
    }

    /// <summary>
    /// Whether a settled search stands at a maximum that the data determine well. Never with detection held at 1: occupancy then counts as seen,
    /// and everything else comes out sharp whether it is so or not. With one visit a season there is often a higher one where nothing
    /// comes or goes and much is missed.
    /// </summary>
    private static bool IsSharp(OccupancyLikelihood likelihood, OccupancyMaximum search)
    {
        var layout = likelihood.Layout;
        if (Array.IndexOf(search.Holds, Hold.AtOne, layout.FirstDetection, layout.Slots) >= 0)
            return false;
        var status = Array.ConvertAll(search.Holds, hold => hold == Hold.Free ? EstimateStatus.Interior : EstimateStatus.AtZero);
        if (Array.IndexOf(search.Holds, Hold.Untouched) >= 0 || Invert(likelihood, status) is not { } covariance)
            return false;
        double limit = Array.TrueForAll(search.Holds, hold => hold == Hold.Free) ? Sharp : SharpAtBoundary;
        for (int j = 0; j < status.Length; j++)
            if (!(covariance[j * status.Length + j] < limit * limit)) return false;
        return true;
    }

    private static int[] FreePlaces(OccupancyLikelihood likelihood, OccupancyMaximum best) =>
        [.. Enumerable.Range(0, best.Point.Length).Where(j => best.Holds[j] == Hold.Free && likelihood.Complete(j, j) > 1e-12)];

    /// <summary>Marks every parameter that takes part in a direction of which the data observe next to nothing.</summary>
    private static void MarkUndetermined(OccupancyLikelihood likelihood, int[] free, EstimateStatus[] status, double smallestShare)
    {
        if (free.Length == 0)
            return;
        var scaled = Matrix<double>.Build.Dense(free.Length, free.Length, (a, b) =>
            likelihood.Information(free[a], free[b]) / Math.Sqrt(likelihood.Complete(free[a], free[a]) * likelihood.Complete(free[b], free[b])));
        var parts = scaled.Evd(Symmetricity.Symmetric);
        for (int v = 0; v < free.Length; v++)
        {
            if (parts.EigenValues[v].Real >= smallestShare)
                continue;
            for (int a = 0; a < free.Length; a++)
                if (Math.Abs(parts.EigenVectors[a, v]) > 1e-3) status[free[a]] = EstimateStatus.NotEstimable;
        }
    }

    private static double[]? Invert(OccupancyLikelihood likelihood, EstimateStatus[] status)
    {
        int count = status.Length, stride = (count + 3) / 4 * 4;
        var matrix = new double[stride * stride];
        var scale = new double[count];
        for (int i = 0; i < count; i++)
            scale[i] = status[i] == EstimateStatus.Interior ? 1 / Math.Sqrt(likelihood.Complete(i, i)) : 0;
        for (int i = 0; i < count; i++)
        {
            for (int j = i; j < count; j++)
                matrix[i * stride + j] = scale[i] * scale[j] * likelihood.Information(i, j);
            if (scale[i] == 0)
                matrix[i * stride + i] = 1;
        }
        if (!SymmetricSolve.Factor(matrix, stride, count))
            return null;
        var (result, column) = (new double[count * count], new double[stride]);
        for (int j = 0; j < count; j++)
        {
            if (scale[j] == 0)
                continue;
            Array.Clear(column);
            column[j] = scale[j];
            SymmetricSolve.Solve(matrix, stride, count, column);
            for (int i = 0; i < count; i++)
                result[i * count + j] = scale[i] * column[i];
        }
        return result;
    }

    /// <summary>Initial occupancy, the weighted mean over sites with a visit, and its gradient.</summary>
    private static (double Mean, double[] Gradient) MeanInitial(OccupancyLikelihood likelihood, double[] point)
    {
        var data = likelihood.Data;
        int c = data.SiteCovariates;
        var gradient = new double[point.Length];
        double mean = 0, total = 0;
        for (int i = 0; i < data.Patterns; i++)
        {
            double weight = data.SitesBeginning(i), eta = point[0];
            if (weight == 0)
                continue;
            var own = data.CovariatesOf(i);
            for (int k = 0; k < c; k++)
                eta += point[1 + k] * own[k];
            double slope = weight * Logistic.Of(eta) * Logistic.Of(-eta);
            (mean, total) = (mean + weight * Logistic.Of(eta), total + weight);
            gradient[0] += slope;
            for (int k = 0; k < c; k++)
                gradient[1 + k] += slope * own[k];
        }
        for (int k = 0; k <= c; k++)
            gradient[k] /= total;
        return (mean / total, gradient);
    }

    private static int IndexOf(OccupancyLayout layout, int place)
    {
        int index = 0;
        while (index < place && layout.KindOf(place - index - 1) == layout.KindOf(place))
            index++;
        return index;
    }

    private static OccupancyFit Without(
        OccupancyStatus status, OccupancyLayout layout, TransitionGroups groups, double value, int iterations, int starts, int atMaximum) => new(
        status, layout, groups, value, new double[layout.Count],
        [.. Enumerable.Range(0, layout.Count).Select(j => new OccupancyParameter(layout.KindOf(j), IndexOf(layout, j), EstimateStatus.NotEstimable, null, null))],
        null, 0, new double[layout.Count], iterations, starts, atMaximum);
}
