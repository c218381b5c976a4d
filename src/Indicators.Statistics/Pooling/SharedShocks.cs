namespace Indicators.Statistics.Pooling;

/// <summary>
/// How far the shocks of a period go together over units: one variance that all units share and one of each unit's own.
/// </summary>
/// <remarks>
/// Units are disjoint, so whatever their residuals have in common beyond chance is shared shock. With weights w_i (one over the
/// residuals' variance) the shared variance is the weighted mean over pairs of Σ_t r_it r_jt / (‖A_i‖‖A_j‖ overlap_ij), the
/// overlap being the pair's common periods over √(T_i T_j). The squares of single units, less what their own clusters
/// account for, give shared and own variance together. A full covariance over units would be noise: 60 units over 20 periods
/// leave its rank at 18. Where shocks are shared by neighbours more than by others, the mean over pairs is what the variance of a mean needs.
/// Both are moments, made 0 when they come out below.
/// </remarks>
/// <param name="Shared">The variance of the shocks that all units share.</param>
/// <param name="Own">The variance of the shocks of each unit alone.</param>
public readonly record struct SharedShocks(double Shared, double Own)
{
    /// <summary>Estimates both.</summary>
    /// <param name="parts">The units; with fewer than two nothing is shared.</param>
    public static SharedShocks Of(IReadOnlyList<SlopePart> parts)
    {
        int k = parts.Count, axis = parts.Max(part => part.Periods[^1]) + 1;
        double[] noise = Noise(parts);
        var rows = new double[k][];
        for (int i = 0; i < k; i++)
        {
            rows[i] = new double[axis];
            for (int t = 0; t < parts[i].Periods.Count; t++)
                rows[i][parts[i].Periods[t]] = parts[i].Residuals[t];
        }
        double[] weights = [.. noise.Select(v => 1 / v)];
        var first = Moments(parts, rows, weights);
        // Once more, with what was found added to what each unit's residuals are uncertain by.
        for (int i = 0; i < k; i++)
            weights[i] = 1 / (noise[i] + first.Own);
        return Moments(parts, rows, weights);
    }

    private static SharedShocks Moments(IReadOnlyList<SlopePart> parts, double[][] rows, double[] weights)
    {
        double product = 0, scale = 0, squares = 0, norms = 0;
        for (int i = 0; i < parts.Count; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double dot = 0, w = weights[i] * weights[j];
                for (int t = 0; t < rows[i].Length; t++)
                    dot += rows[i][t] * rows[j][t];
                product += w * dot;
                scale += w * parts[i].ResponseNorm * parts[j].ResponseNorm * Overlap(parts[i].Periods, parts[j].Periods);
            }
            if (parts[i].ResidualVariance is not { } accounted)
                continue;
            squares += weights[i] * (rows[i].Sum(r => r * r) - accounted);
            norms += weights[i] * parts[i].ResponseNorm * parts[i].ResponseNorm;
        }
        double shared = scale > 0 ? Math.Max(0, product / scale) : 0;
        double both = norms > 0 ? squares / norms : 0;
        return new SharedShocks(shared, Math.Max(0, both - shared));
    }

    /// <summary>Common periods over √(T_i T_j): 1 where both have the same.</summary>
    private static double Overlap(IReadOnlyList<int> one, IReadOnlyList<int> other)
    {
        int common = 0;
        for (int t = 0, u = 0; t < one.Count && u < other.Count;)
        {
            if (one[t] == other[u]) (common, t, u) = (common + 1, t + 1, u + 1);
            else if (one[t] < other[u]) t++;
            else u++;
        }
        return common / Math.Sqrt((double)one.Count * other.Count);
    }

    /// <summary>
    /// The variance of a residual of each unit; where the unit cannot tell it, in proportion to one over its information, as
    /// over the others. It only weighs units.
    /// </summary>
    private static double[] Noise(IReadOnlyList<SlopePart> parts)
    {
        double[] known = [.. parts.Where(p => p.ResidualVariance > 0).Select(p => p.ResidualVariance!.Value / p.Periods.Count * p.Information)];
        double typical = known.Length > 0 ? known.Average() : 1;
        return [.. parts.Select(p => p.ResidualVariance is > 0 and var v ? v / p.Periods.Count : typical / p.Information)];
    }

    /// <summary>The covariance that shocks give the slopes: Shared Σ_t h_it h_jt, and Own Σ_t h_it² more for a unit with itself.</summary>
    /// <param name="parts">The units.</param>
    public (double[,] Shared, double[] Own) Covariance(IReadOnlyList<SlopePart> parts)
    {
        int k = parts.Count, axis = parts.Max(part => part.Periods[^1]) + 1;
        var rows = new double[k][];
        for (int i = 0; i < k; i++)
        {
            rows[i] = new double[axis];
            for (int t = 0; t < parts[i].Periods.Count; t++)
                rows[i][parts[i].Periods[t]] = parts[i].Leverage[t];
        }
        var shared = new double[k, k];
        var own = new double[k];
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double dot = 0;
                for (int t = 0; t < axis; t++)
                    dot += rows[i][t] * rows[j][t];
                shared[i, j] = shared[j, i] = Shared * dot;
                if (i == j)
                    own[i] = Own * dot;
            }
        }
        return (shared, own);
    }
}
