using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>The class of a condition score.</summary>
public enum ConditionClass
{
    /// <summary>Below fair.</summary>
    Poor,

    /// <summary>Between poor and good.</summary>
    Fair,

    /// <summary>Good, compared with the baseline seasons and the expected list; not the same as healthy.</summary>
    Good,
}

/// <summary>The four parts of the score.</summary>
public enum ScorePart
{
    /// <summary>How many of the expected species are there, or likely to be.</summary>
    Presence,

    /// <summary>How much of the expected sensitivity they carry.</summary>
    Sensitivity,

    /// <summary>How much calling there is, compared with the baseline.</summary>
    Calling,

    /// <summary>How likely the expected species are to hold their own.</summary>
    Direction,
}

/// <summary>Something a season lacks for a score.</summary>
[Flags]
public enum ScoreLack
{
    /// <summary>Nothing is missing.</summary>
    None = 0,

    /// <summary>It is one of the first two seasons of listening.</summary>
    EarlySeason = 1,

    /// <summary>Too few seasons with surveys in the window.</summary>
    FewSeasons = 2,

    /// <summary>Too few wetlands surveyed in the window.</summary>
    FewWetlands = 4,

    /// <summary>Too few expected species.</summary>
    FewExpectedSpecies = 8,

    /// <summary>No expected species has an index in the window.</summary>
    NoCallingIndex = 16,

    /// <summary>No expected species has an interval for its slope yet.</summary>
    NoSlopes = 32,

    /// <summary>So little is heard of the expected species that resamples of their group index lean away from it.</summary>
    LittleHeard = 64,
}

/// <summary>The condition of one area in one season.</summary>
public sealed record Condition
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The season scored, the last of the moving window.</summary>
    public required int Season { get; init; }

    /// <summary>What is missing for a score; none when there is one.</summary>
    public required ScoreLack Lacks { get; init; }

    /// <summary>The score, 0 to 100, or null.</summary>
    public double? Score { get; init; }

    /// <summary>Lower end of its interval, 0 to 100.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of its interval, 0 to 100.</summary>
    public double? Upper { get; init; }

    /// <summary>The class the score falls in, or null.</summary>
    public ConditionClass? Class { get; init; }

    /// <summary>Share of the score draws that are good, 0 to 1.</summary>
    public double? ProbabilityGood { get; init; }

    /// <summary>Share of the score draws that are fair.</summary>
    public double? ProbabilityFair { get; init; }

    /// <summary>Share of the score draws that are poor.</summary>
    public double? ProbabilityPoor { get; init; }

    /// <summary>The presence part, 0 to 100: a species not heard counts by the chance that it is still there.</summary>
    public double? PresencePart { get; init; }

    /// <summary>The sensitivity part, 0 to 100, by the same chances.</summary>
    public double? SensitivityPart { get; init; }

    /// <summary>What the presence part would be if every species not heard were absent, 0 to 100; not part of the score.</summary>
    public double? PresenceRawPart { get; init; }

    /// <summary>The same for the sensitivity part.</summary>
    public double? SensitivityRawPart { get; init; }

    /// <summary>The calling part, 0 to 100: held at 100 when the group index is above it.</summary>
    public double? CallingPart { get; init; }

    /// <summary>The direction part, 0 to 100.</summary>
    public double? DirectionPart { get; init; }

    /// <summary>How many species are expected here.</summary>
    public int Expected { get; init; }

    /// <summary>How many of them were heard in the window.</summary>
    public int Heard { get; init; }

    /// <summary>Seasons with surveys in the window.</summary>
    public int SeasonsInWindow { get; init; }

    /// <summary>Wetlands surveyed in the window.</summary>
    public int Wetlands { get; init; }

    /// <summary>Eligible surveys in the window, of any species.</summary>
    public int Surveys { get; init; }

    /// <summary>
    /// Mean coefficient of conservatism of the species heard, times the square root of their number; reported beside the
    /// score, not part of it, for it falls when a tolerant species is heard.
    /// </summary>
    public double? ConservatismIndex { get; init; }

    /// <summary>
    /// What holds the score below 100, line by line: the points add up to <see cref="Score"/> − 100 with no remainder.
    /// Empty without a score.
    /// </summary>
    public IReadOnlyList<ConditionLine> Lines { get; init; } = [];
}

/// <summary>One line of a score's explanation.</summary>
/// <param name="Part">The part it belongs to.</param>
/// <param name="Species">The species it is about; null for the line that holds the calling part at 100.</param>
/// <param name="Points">Points of the score, negative when the line holds it back.</param>
/// <param name="Change">Points moved since the season before, or null when that season has no score.</param>
public sealed record ConditionLine(ScorePart Part, Id<Species>? Species, double Points, double? Change);
