namespace Indicators.Analysis.Options;

/// <summary>How occupancy with imperfect detection is fitted and what is made of silence.</summary>
public sealed record OccupancyOptions
{
    /// <summary>
    /// Fewer wetlands with eligible surveys than this: no model of occupancy. Default 10, from the study in docs/occupancy.md.
    /// </summary>
    public int MinimumWetlands { get; init; } = 10;

    /// <summary>
    /// The chance of having missed a species that is left when it is called absent after silent visits, above 0 and below 1.
    /// Default 0.05: "at 95 %", as in Kéry 2002.
    /// </summary>
    public double AbsenceChance { get; init; } = 0.05;

    /// <summary>A station that has gone quiet, or is newly heard, is listed when chance alone does so this often or less. Default 0.05 (ours).</summary>
    public double SilenceChance { get; init; } = 0.05;
}
