namespace Indicators.Statistics.Occupancy;

/// <summary>One visit to a site in a season. A visit that was not made is not listed.</summary>
/// <param name="Site">The site's number, from 0.</param>
/// <param name="Season">The season's number, from 0.</param>
/// <param name="Detected">Whether the visit detected.</param>
/// <param name="Slot">Which detection intercept the visit has, from 0: one for each kind of visit that differs by design.</param>
public readonly record struct Visit(int Site, int Season, bool Detected, int Slot = 0);
