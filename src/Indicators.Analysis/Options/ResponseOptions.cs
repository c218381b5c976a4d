namespace Indicators.Analysis.Options;

/// <summary>What is made of a call level before it is added up.</summary>
public enum ResponseKind
{
    /// <summary>The call level itself, 0 to 3.</summary>
    CallLevel,

    /// <summary>1 when heard at any level, else 0.</summary>
    Heard,

    /// <summary>1 at level 3, a full chorus, else 0.</summary>
    FullChorus,

    /// <summary>The programme's own weight of each level.</summary>
    Weighted,
}

/// <summary>What the programme's indices, trends and scores are made of. The edition says which.</summary>
public sealed record ResponseOptions
{
    /// <summary>The response. Default the call level.</summary>
    public ResponseKind Kind { get; init; } = ResponseKind.CallLevel;

    /// <summary>
    /// With <see cref="ResponseKind.Weighted"/>: what levels 1, 2 and 3 count, each 0 or more, not all 0, none less than the
    /// level below; level 0 counts 0. Default 1, 2 and 3, which is the call level.
    /// </summary>
    public IReadOnlyList<double> Weights { get; init; } = [1, 2, 3];

    /// <summary>What levels 1, 2 and 3 count under a response.</summary>
    public (double One, double Two, double Three) Of(ResponseKind kind) => kind switch
    {
        ResponseKind.CallLevel => (1, 2, 3),
        ResponseKind.Heard => (1, 1, 1),
        ResponseKind.FullChorus => (0, 0, 1),
        _ => (Weights[0], Weights[1], Weights[2]),
    };
}
