using Indicators.Analysis.Results;

namespace Indicators.Analysis.Changes;

/// <summary>
/// What one station brings to the comparison of two times for one species: sums of the response and of surveys, each counted
/// by the station's weight, first of all surveys, then of what both times share under every step.
/// </summary>
internal sealed class StationShare
{
    /// <summary>How many steps there are.</summary>
    public static readonly int Steps = Enum.GetValues<ListeningStep>().Length;

    /// <summary>Response of the earlier time.</summary>
    public double CallsBefore { get; init; }

    /// <summary>Response of the later time.</summary>
    public double CallsNow { get; init; }

    /// <summary>Surveys of the earlier time, weighted.</summary>
    public double EffortBefore { get; init; }

    /// <summary>Surveys of the later time, weighted.</summary>
    public double EffortNow { get; init; }

    /// <summary>Surveys of the earlier time.</summary>
    public int SurveysBefore { get; init; }

    /// <summary>Surveys of the later time.</summary>
    public int SurveysNow { get; init; }

    /// <summary>Surveyed at both times.</summary>
    public bool Shared => SurveysBefore > 0 && SurveysNow > 0;

    /// <summary>Σ over strata of calls now × effort before / effort of both, at each step from <see cref="ListeningStep.Visits"/> on.</summary>
    public required double[] Now { get; init; }

    /// <summary>Σ over strata of calls before × effort now / effort of both.</summary>
    public required double[] Before { get; init; }

    /// <summary>Surveys of both times in strata that both have.</summary>
    public required int[] Surveys { get; init; }

    /// <summary>The people whose surveys each step sets beside each other, as numbers; only from <see cref="ListeningStep.Observers"/> on.</summary>
    public required int[][] Observers { get; init; }
}
