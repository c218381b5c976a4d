using Indicators.Monitoring;

namespace Indicators.Analysis;

/// <summary>Areas with the same stations, which share their fits: they are analysed together.</summary>
/// <param name="Areas">At least one, in the order of their codes.</param>
/// <param name="Stations">How many stations they have.</param>
public sealed record AreaSet(IReadOnlyList<WatershedCode> Areas, int Stations);
