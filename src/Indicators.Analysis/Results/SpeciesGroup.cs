namespace Indicators.Analysis.Results;

/// <summary>Species that are put together.</summary>
public enum SpeciesGroup
{
    /// <summary>All of them.</summary>
    All,

    /// <summary>Those whose calling window has its middle early in the year.</summary>
    EarlySeason,

    /// <summary>Those with a high coefficient of conservatism.</summary>
    HighConservatism,

    /// <summary>Those whose calling window has its middle in summer.</summary>
    Summer,
}
