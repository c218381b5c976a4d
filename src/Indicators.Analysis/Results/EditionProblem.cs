namespace Indicators.Analysis.Results;

/// <summary>Why there is no edition to make, publish or read.</summary>
public enum EditionProblemKind
{
    /// <summary>There are no accepted surveys to analyse, or none up to the season asked for.</summary>
    NothingToAnalyse,

    /// <summary>There is no draft to publish.</summary>
    NoDraft,

    /// <summary>Nothing has been published yet.</summary>
    NothingPublished,

    /// <summary>No edition with this number was ever published.</summary>
    UnknownEdition,

    /// <summary>No edition was published before this one.</summary>
    NoEditionBefore,

    /// <summary>The edition asked for as the earlier one is not.</summary>
    NotBefore,

    /// <summary>Another version of the engine, or another machine, made the edition.</summary>
    OtherEngine,

    /// <summary>What the edition rests on cannot be had any more.</summary>
    OtherSurveys,

    /// <summary>The causes cannot be told apart.</summary>
    NotApart,
}

/// <summary>One such reason, as a typed fact; the sentence lives in Wording.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Number">The edition or season asked for, where one was.</param>
public sealed record EditionProblem(EditionProblemKind Kind, long? Number = null);
