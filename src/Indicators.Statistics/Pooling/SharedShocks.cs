using Indicators.Statistics.Shocks;

namespace Indicators.Statistics.Pooling;

/// <summary>
/// How far the shocks of a period go together over units: one variance that all units share and one of each unit's own.
/// </summary>
/// <remarks>
/// Units are disjoint, so whatever their residuals have in common beyond chance is shared shock. With weights w_i (one over the
/// residuals' variance) the shared variance is the weighted mean over pairs of Σ_t r_it r_jt / (√(tr A_i R A_iᵀ · tr A_j R A_jᵀ) overlap_ij), the
/// overlap being the pair's common periods over √(T_i T_j) and R_tu = ρ^|t−u| how shocks carry over, ρ one for all (<see cref="SeasonCarryOver.Together"/>). The squares of single units, less what their own clusters
/// account for, give shared and own variance together. A full covariance over units would be noise: 60 units over 20 periods
/// leave its rank at 18. Where shocks are shared by neighbours more than by others, the mean over pairs is what the variance of a mean needs.
/// Both are moments, made 0 when they come out below.
/// </remarks>
/// <param name="Shared">The variance of the shocks that all units share.</param>
/// <param name="Own">The variance of the shocks of each unit alone.</param>
/// <param name="CarryOver">ρ: the correlation of one season's shocks with those of the season before.</param>
public readonly record struct SharedShocks(double Shared, double Own, double CarryOver)
{
    /// <summary>Estimates both.</summary>
    /// <param name="parts">The units; with fewer than two nothing is shared.</param>
    public static SharedShocks Of(IReadOnlyList<SlopePart> parts)
    {
        int k = parts.Count, axis = parts.Max(part => part.Periods[^1]) + 1;
        double[] noise = Noise(parts);
        double[][] rows = [.. parts.Select(part => OnAxis(part, part.Residuals, axis))];
        double carryOver = SeasonCarryOver.Together(parts.Select(part => part.CarryOverEvidence));
        double[] norms = [.. parts.Select(part => Math.Sqrt(ShockResponse.Squares(part.ResponseByLag, carryOver)))];
        double[] weights = [.. noise.Select(v => 1 / v)];
        var first = Moments(parts, rows, norms, weights, carryOver);
        // Once more, with what was found added to what each unit's residuals are uncertain by.
        for (int i = 0; i < k; i++)
            weights[i] = 1 / (noise[i] + first.Own);
        return Moments(parts, rows, norms, weights, carryOver);
    }

    private static SharedShocks Moments(IReadOnlyList<SlopePart> parts, double[][] rows, double[] norms, double[] weights, double carryOver)
    {
        double product = 0, scale = 0, squares = 0, responses = 0;
        for (int i = 0; i < parts.Count; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double dot = 0, w = weights[i] * weights[j];
                for (int t = 0; t < rows[i].Length; t++)
                    dot += rows[i][t] * rows[j][t];
                product += w * dot;
                scale += w * norms[i] * norms[j] * Overlap(parts[i].Periods, parts[j].Periods);
            }
            if (parts[i].ResidualVariance is not { } accounted)
                continue;
            squares += weights[i] * (rows[i].Sum(r => r * r) - accounted);
            responses += weights[i] * norms[i] * norms[i];
        }
        double shared = scale > 0 ? Math.Max(0, product / scale) : 0;
        double both = responses > 0 ? squares / responses : 0;
        return new SharedShocks(shared, Math.Max(0, both - shared), carryOver);
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

    /// <summary>
    /// The covariance that shocks give the slopes, by its factors: with R = L Lᵀ the shared part, Shared h_i′ R h_j, is the product of rows √Shared h_i′ L; a unit with
    /// itself has Own h_i′ R h_i more.
    /// </summary>
    /// <param name="parts">The units.</param>
    public (double[][] Shared, double[] Own) Factors(IReadOnlyList<SlopePart> parts)
    {
        int axis = parts.Max(part => part.Periods[^1]) + 1;
        double carryOver = CarryOver;
        double[][] rows = [.. parts.Select(part => Carried(OnAxis(part, part.Leverage, axis), carryOver))];
        var own = new double[parts.Count];
        double root = Math.Sqrt(Shared);
        for (int i = 0; i < rows.Length; i++)
        {
            own[i] = Own * rows[i].Sum(value => value * value);
            for (int t = 0; t < axis; t++)
                rows[i][t] *= root;
        }
        return (rows, own);
    }

    /// <summary>h′ L: what the first season's shock does is carried on by ρ, what is new in each later one has √(1 − ρ²) of its size.</summary>
    private static double[] Carried(double[] row, double carryOver)
    {
        var carried = new double[row.Length];
        double later = 0, news = Math.Sqrt(1 - carryOver * carryOver);
        for (int t = row.Length - 1; t >= 0; t--)
        {
            later = row[t] + carryOver * later;
            carried[t] = t == 0 ? later : news * later;
        }
        return carried;
    }

    /// <summary>Values of a unit's periods on the axis of all units, 0 elsewhere.</summary>
    private static double[] OnAxis(SlopePart part, IReadOnlyList<double> values, int axis)
    {
        var row = new double[axis];
        for (int t = 0; t < part.Periods.Count; t++)
            row[part.Periods[t]] = values[t];
        return row;
    }
}
