using Indicators.Monitoring;

namespace Indicators.Analysis;

/// <summary>Areas with the same stations, which share their fits: they are analysed together.</summary>
/// <param name="Areas">At least one, in the order of their codes.</param>
/// <param name="WorksAlone">
/// So large that it is done by itself, with all threads at work inside it; the others are done side by side, one thread each.
/// </param>
public sealed record AreaSet(IReadOnlyList<WatershedCode> Areas, bool WorksAlone);
