using Indicators.Statistics.Shocks;

namespace Indicators.Statistics.Pooling;

/// <summary>What one unit's slope brings to <see cref="SlopePooling"/>. Log scale throughout.</summary>
public sealed record SlopePart
{
    /// <summary>β̂, finite.</summary>
    public required double Slope { get; init; }

    /// <summary>−d²ℓ/dβ² of the conditional likelihood at β̂, greater than 0.</summary>
    public required double Information { get; init; }

    /// <summary>
    /// The variance of β̂ over the unit's own clusters, ω var_b(β*_b) with ω = K/(K − 1); null where the unit has too few
    /// clusters to tell, or too many refits were lost.
    /// </summary>
    public double? OwnVariance { get; init; }

    /// <summary>K: clusters that inform the slope, at least 1.</summary>
    public required int Clusters { get; init; }

    /// <summary>The season of each of the unit's periods, in whole years from one common to all units on, 0 or more, ascending.</summary>
    public required IReadOnlyList<int> Periods { get; init; }

    /// <summary>
    /// h_t: the change of the slope per unit shock in each of its periods, taken at a slope that is the same for all units (0), not at
    /// its own. Leverage at its own slope goes with the slope, so that one shared shock could explain that slopes differ: with 60
    /// units and shocks of sd .3 that made τ come out at .006 to .013 where it was .020.
    /// </summary>
    public required IReadOnlyList<double> Leverage { get; init; }

    /// <summary>r_t: the residual of each of its periods about the trend.</summary>
    public required IReadOnlyList<double> Residuals { get; init; }

    /// <summary>Σ_t ω var_b(r*_tb): what of the residuals' squares the unit's own clusters account for; null with <see cref="OwnVariance"/>.</summary>
    public double? ResidualVariance { get; init; }

    /// <summary>What residuals' squares come to under shocks that carry over, by the years between shocks: <see cref="ShockResponse.SquaresByLag"/>.</summary>
    public required IReadOnlyList<double> ResponseByLag { get; init; }

    /// <summary>What all that is known of the unit tells of how alike its shocks of one season and the next are (<see cref="UnderlyingSlopes.CarryOverEvidence"/>).</summary>
    public required IReadOnlyList<double> CarryOverEvidence { get; init; }
}
