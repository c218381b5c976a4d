namespace Indicators.Analysis.Results;

/// <summary>How much listening stands behind a trend, whatever the trend says. The rule is <see cref="EvidenceRule"/>.</summary>
public enum Evidence
{
    /// <summary>Nothing below speaks against leaning on it.</summary>
    WellSupported,

    /// <summary>It holds, with a weakness to know of.</summary>
    PartlySupported,

    /// <summary>Too little stands behind it, or too much behind one place.</summary>
    Thin,
}

/// <summary>Why a trend is not well supported. A value once written into an edition never means anything else.</summary>
[Flags]
public enum EvidenceReason
{
    /// <summary>Nothing to note.</summary>
    None = 0,

    /// <summary>There is no interval of the underlying direction with two finite ends. Thin.</summary>
    NoInterval = 1,

    /// <summary>Fewer wetlands tell something than <see cref="EvidenceRule.FewWetlands"/>. Thin.</summary>
    VeryFewWetlands = 2,

    /// <summary>Fewer seasons than <see cref="EvidenceRule.FewSeasons"/>. Thin.</summary>
    FewSeasons = 4,

    /// <summary>It is said to go up or down, and without one of the wetlands the estimate would go the other way or not exist. Thin.</summary>
    OneWetlandDecides = 8,

    /// <summary>In many seasons only one station listened of those that ever heard it. Thin.</summary>
    SeasonsOnOneStation = 16,

    /// <summary>Fewer wetlands than <see cref="EvidenceRule.EnoughWetlands"/>. Partly supported.</summary>
    FewWetlands = 32,

    /// <summary>Without one of the wetlands the estimate moves by more than half the interval's width. Partly supported.</summary>
    OneWetlandMoves = 64,

    /// <summary>Many surveys are at the top of the call scale. Partly supported.</summary>
    NearCeiling = 128,

    /// <summary>Calls scatter more about the trend than surveys of a like season could by themselves. Partly supported.</summary>
    Scattered = 256,

    /// <summary>Most of the latest surveys are by people who had not listened here before. Partly supported.</summary>
    NewObservers = 512,

    /// <summary>Many surveys are outside the protocol's limits. Partly supported.</summary>
    OutsideProtocol = 1024,
}

/// <summary>The codes of <see cref="EvidenceReason"/> in files: names in lower snake case with a space between, so <c>few_wetlands near_ceiling</c>.</summary>
public static class EvidenceReasons
{
    private static readonly EvidenceReason[] All = [.. Enum.GetValues<EvidenceReason>().Where(reason => reason != EvidenceReason.None)];

    /// <summary>The single reasons of a set, in the order they are declared.</summary>
    public static IEnumerable<EvidenceReason> Each(EvidenceReason reasons) => All.Where(reason => reasons.HasFlag(reason));

    /// <summary>The codes, or null when there is no reason.</summary>
    public static string? Codes(EvidenceReason reasons) =>
        reasons == EvidenceReason.None ? null : string.Join(' ', Each(reasons).Select(reason => ResultCode.Of(reason)));
}
