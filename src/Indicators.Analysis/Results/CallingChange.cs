using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>
/// How much calling of a species was heard in one area, set beside an earlier time: the change of the mean response of all
/// eligible surveys, taken apart into what the listening changed and what was heard. The parts are differences of logs and
/// add up to <see cref="Total"/> with no remainder.
/// </summary>
public sealed record CallingChange
{
    /// <summary>The area.</summary>
    public required WatershedCode Area { get; init; }

    /// <summary>The species.</summary>
    public required Id<Species> Species { get; init; }

    /// <summary>What it is counted from.</summary>
    public required ChangeSince Since { get; init; }

    /// <summary>First season of the earlier time.</summary>
    public required int FromFirst { get; init; }

    /// <summary>Last season of the earlier time; the same for a single season.</summary>
    public required int FromLast { get; init; }

    /// <summary>The season compared, the area's last one with surveys.</summary>
    public required int Season { get; init; }

    /// <summary>Eligible surveys of the earlier time.</summary>
    public required int SurveysBefore { get; init; }

    /// <summary>Eligible surveys of the season.</summary>
    public required int SurveysNow { get; init; }

    /// <summary>Mean response of the earlier time, each survey counted by its station's weight; 0 when it was not heard.</summary>
    public required double MeanBefore { get; init; }

    /// <summary>Mean response of the season.</summary>
    public required double MeanNow { get; init; }

    /// <summary>ln(<see cref="MeanNow"/> / <see cref="MeanBefore"/>); null when one of them is 0.</summary>
    public double? Total { get; init; }

    /// <summary>Lower end of the interval of <see cref="Total"/>, from the area's resamples; null without one or without end.</summary>
    public double? TotalLower { get; init; }

    /// <summary>Upper end.</summary>
    public double? TotalUpper { get; init; }

    /// <summary>What stations surveyed at one time only add to <see cref="Total"/>; null when this step was not taken.</summary>
    public double? Stations { get; init; }

    /// <summary>What the numbers of visits to the stations add; null when this step was not taken.</summary>
    public double? Visits { get; init; }

    /// <summary>What visits in other parts of the calling window add; null when this step was not taken.</summary>
    public double? Windows { get; init; }

    /// <summary>What other observers add; null when this step was not taken.</summary>
    public double? Observers { get; init; }

    /// <summary>What surveys outside the protocol, or of other length, add; null when this step was not taken.</summary>
    public double? Method { get; init; }

    /// <summary>The change on the listening that both times share: what was heard. Null when there is no <see cref="Total"/>.</summary>
    public double? Heard { get; init; }

    /// <summary>Lower end of its interval; null without one, without end, and when no step was taken.</summary>
    public double? HeardLower { get; init; }

    /// <summary>Upper end of its interval.</summary>
    public double? HeardUpper { get; init; }

    /// <summary>Why steps were left out; what they would have told is part of <see cref="Heard"/>, where there is one.</summary>
    public required ChangeStop Stop { get; init; }

    /// <summary>The first step that was not taken; null when all were.</summary>
    public ListeningStep? StoppedAt { get; init; }

    /// <summary>Wetlands with listening that both times share, after the last step taken.</summary>
    public required int SharedWetlands { get; init; }

    /// <summary>Surveys of both times in it.</summary>
    public required int SharedSurveys { get; init; }

    /// <summary>The listening's part, the sum of the steps taken; null when there is no <see cref="Total"/>.</summary>
    public double? Listening => Total - Heard;

    /// <summary>The part of one step, or null when it was not taken.</summary>
    public double? Of(ListeningStep step) => step switch
    {
        ListeningStep.Stations => Stations,
        ListeningStep.Visits => Visits,
        ListeningStep.Windows => Windows,
        ListeningStep.Observers => Observers,
        _ => Method,
    };
}
