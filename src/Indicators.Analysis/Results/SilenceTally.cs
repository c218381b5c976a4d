using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>How many stations and species were looked at for a list of silences, and how much of the list chance alone would make.</summary>
/// <param name="Area">The smallest watershed of the stations.</param>
/// <param name="Kind">Gone quiet or newly heard.</param>
/// <param name="Tested">Pairs of a station still listened at and an unprotected species it ever heard.</param>
/// <param name="Listed">How many of them are listed.</param>
/// <param name="ExpectedByChance">At most so many would be listed if nothing had changed anywhere.</param>
public sealed record SilenceTally(WatershedCode Area, SilenceKind Kind, int Tested, int Listed, double ExpectedByChance);
