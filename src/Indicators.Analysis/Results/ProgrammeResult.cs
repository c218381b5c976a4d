namespace Indicators.Analysis.Results;

/// <summary>What only all areas of a programme together tell: a pure function of their results and the settings.</summary>
public sealed record ProgrammeResult
{
    /// <summary>Nothing, as of a programme with a single area.</summary>
    public static ProgrammeResult Empty { get; } = new();

    /// <summary>Pooled slopes, ordered by parent (the whole programme first), level, species, method.</summary>
    public IReadOnlyList<PooledTrend> Pooled { get; init; } = [];

    /// <summary>Shrunken slopes, ordered by parent (the whole programme first), area, species.</summary>
    public IReadOnlyList<ShrunkenTrend> Shrunken { get; init; } = [];

    /// <summary>Rolled-up indices, ordered by area, species, season.</summary>
    public IReadOnlyList<RollUp> RollUps { get; init; } = [];
}
