namespace Indicators.Analysis.Results;

/// <summary>What a change of calling is counted from.</summary>
public enum ChangeSince
{
    /// <summary>The season with surveys before this one.</summary>
    PreviousSeason,

    /// <summary>The baseline seasons; for a score the first season that has one.</summary>
    Baseline,
}

/// <summary>
/// The ways in which the listening of two times can differ, in the order in which they are taken out: each step compares only
/// what both times share, within what the steps before it left.
/// </summary>
public enum ListeningStep
{
    /// <summary>Only stations surveyed at both times.</summary>
    Stations,

    /// <summary>Each station with itself, however often it was visited.</summary>
    Visits,

    /// <summary>Each third of the calling window with itself.</summary>
    Windows,

    /// <summary>Each observer with themselves.</summary>
    Observers,

    /// <summary>Surveys within the protocol with such surveys, those outside with such, of as many minutes.</summary>
    Method,
}

/// <summary>Why no further step could be taken.</summary>
public enum ChangeStop
{
    /// <summary>All steps were taken.</summary>
    None,

    /// <summary>What both times share lies in fewer wetlands than an interval needs.</summary>
    FewWetlands,

    /// <summary>Fewer than half of the surveys at stations of both times would be left: too few to say what was heard.</summary>
    FewSurveys,

    /// <summary>There is shared listening, but it heard the species in too few wetlands, or not at all at one of the times.</summary>
    FewHeard,

    /// <summary>Fewer than <see cref="EvidenceRule.FewestObservers"/> people listened, so nothing is told by observer.</summary>
    FewObservers,
}
