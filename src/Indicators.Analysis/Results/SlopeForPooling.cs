using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>One season of a slope that is to be pooled.</summary>
/// <param name="Season">The season.</param>
/// <param name="Leverage">h_t: how much a shock of that season, on the log scale, moves a slope of 0.</param>
/// <param name="Residual">r_t: how far what was heard lies from the trend, as a share of what was expected.</param>
public readonly record struct SeasonForPooling(int Season, double Leverage, double Residual);

/// <summary>
/// What one area's slope of one species brings to pooling over areas, kept with the area so that a run that was stopped
/// can be gone on with. Log scale.
/// </summary>
public sealed record SlopeForPooling
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>β̂ per season.</summary>
    public required double Slope { get; init; }

    /// <summary>Its conditional information, greater than 0.</summary>
    public required double Information { get; init; }

    /// <summary>The variance of the slope over the area's own wetlands; null where it has too few to tell.</summary>
    public double? OwnVariance { get; init; }

    /// <summary>K: wetlands that inform the slope; 1 for a single wetland, whatever its stations.</summary>
    public required int Clusters { get; init; }

    /// <summary>What of the residuals' squares the area's own wetlands account for; null with <see cref="OwnVariance"/>.</summary>
    public double? ResidualVariance { get; init; }

    /// <summary>What residuals' squares come to under shocks that carry over, by the years between shocks (<see cref="Statistics.Shocks.ShockResponse.SquaresByLag"/>).</summary>
    public required IReadOnlyList<double> ResponseByLag { get; init; }

    /// <summary>What the area's species together tell of how alike springs of one season and the next are (<see cref="Statistics.Shocks.UnderlyingSlopes.CarryOverEvidence"/>).</summary>
    public required IReadOnlyList<double> CarryOverEvidence { get; init; }

    /// <summary>Its seasons, ascending.</summary>
    public required IReadOnlyList<SeasonForPooling> Seasons { get; init; }
}
