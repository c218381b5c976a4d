namespace Indicators.Analysis.Power;

/// <summary>
/// How calling of one species varies in a programme: what a simulated survey is drawn from. Spreads are standard deviations
/// on the natural log scale, 0 upward.
/// </summary>
public sealed record CallingSpread
{
    /// <summary>Mean response of a survey at a wetland that ever heard the species, greater than 0.</summary>
    public required double Mean { get; init; }

    /// <summary>When the response is above 0: its values, and the share of each, adding up to 1.</summary>
    public required IReadOnlyList<(double Value, double Share)> WhenHeard { get; init; }

    /// <summary>Between wetlands' levels.</summary>
    public double LevelSd { get; init; }

    /// <summary>Between wetlands' slopes, per season.</summary>
    public double SlopeSd { get; init; }

    /// <summary>Of a wetland's season about its own course, beyond what single surveys vary: over-dispersion.</summary>
    public double CellSd { get; init; }

    /// <summary>Of good and bad springs that all wetlands share.</summary>
    public double SeasonSd { get; init; }

    /// <summary>E[v | v &gt; 0].</summary>
    public double MeanWhenHeard => WhenHeard.Sum(w => w.Value * w.Share);

    /// <summary>E[v² | v &gt; 0] / E[v | v &gt; 0]: a survey with mean m has variance m × this − m².</summary>
    public double SpreadWhenHeard => WhenHeard.Sum(w => w.Value * w.Value * w.Share) / MeanWhenHeard;
}

/// <summary>What the spread was estimated from.</summary>
/// <param name="Wetlands">Wetlands that ever heard the species.</param>
/// <param name="Stations">Stations that did.</param>
/// <param name="Surveys">Their eligible surveys.</param>
/// <param name="FirstSeason">The first season with effort.</param>
/// <param name="LastSeason">The last.</param>
/// <param name="VisitsPerSeason">Surveys a wetland had in a season in which it had any, on average.</param>
/// <param name="CeilingShare">Share of the surveys at full chorus, 0 to 1, where it has reached the programme's warning share; null below it.</param>
public sealed record SpreadBasis(
    int Wetlands, int Stations, int Surveys, int FirstSeason, int LastSeason, double VisitsPerSeason, double? CeilingShare = null);
