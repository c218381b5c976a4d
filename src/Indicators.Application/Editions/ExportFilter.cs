using Indicators.Monitoring;

namespace Indicators.Application.Editions;

/// <summary>What of a table is wanted; all of it when nothing is named. Only rows are left out, never a column.</summary>
public sealed record ExportFilter
{
    /// <summary>Everything.</summary>
    public static ExportFilter None { get; } = new();

    /// <summary>One area alone, or null. Places are those that lie in it.</summary>
    public WatershedCode? Area { get; init; }

    /// <summary>One species alone, or null.</summary>
    public Id<Species>? Species { get; init; }

    /// <summary>The earlier edition of a table that sets two side by side, or null for the one published before.</summary>
    public long? Since { get; init; }

    /// <summary>One wetland alone, by its name in addresses, or null.</summary>
    public string? Wetland { get; init; }
}
