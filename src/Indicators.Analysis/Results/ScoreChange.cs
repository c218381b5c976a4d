using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>How the condition score of an area moved since an earlier season, taken apart into points without a remainder.</summary>
public sealed record ScoreChange
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>What it is counted from.</summary>
    public required ChangeSince Since { get; init; }

    /// <summary>The season scored before.</summary>
    public required int FromSeason { get; init; }

    /// <summary>The season scored, the area's last one with surveys.</summary>
    public required int Season { get; init; }

    /// <summary>The published score of <see cref="Season"/> less that of <see cref="FromSeason"/>.</summary>
    public required double Points { get; init; }

    /// <summary>Lower end of its interval, from the same draws of both scores; null when too many were lost.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end.</summary>
    public double? Upper { get; init; }

    /// <summary>Species whose calling could be compared on stations surveyed at both times.</summary>
    public required int SpeciesSplit { get; init; }

    /// <summary>Species in the calling part.</summary>
    public required int SpeciesCompared { get; init; }

    /// <summary>Points of the score; they add up to <see cref="Points"/>.</summary>
    public required IReadOnlyList<ScoreChangeLine> Lines { get; init; }

    /// <summary>What the listening changed, in points.</summary>
    public double Listening => Lines.Where(line => line.Step is not null).Sum(line => line.Points);

    /// <summary>What changed of what was heard, in points.</summary>
    public double Heard => Lines.Where(line => line.Step is null).Sum(line => line.Points);
}

/// <summary>One line of a score's change.</summary>
/// <param name="Step">What of the listening changed; null for what was heard.</param>
/// <param name="Part">The part of the score.</param>
/// <param name="Species">The species of a line of what was heard; null for the line that holds the calling part at 100 and for lines of the listening.</param>
/// <param name="Points">Points moved.</param>
public sealed record ScoreChangeLine(ListeningStep? Step, ScorePart Part, Id<Species>? Species, double Points);
