using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>What of an area's listening is missing in one season.</summary>
/// <param name="Area">The area.</param>
/// <param name="Season">The calendar year of the surveys.</param>
/// <param name="StationsBefore">Stations surveyed in any of the <see cref="SeasonsBefore"/> seasons before it.</param>
/// <param name="StationsMissed">Those of them not surveyed in it.</param>
/// <param name="Windows">Calling windows of expected species.</param>
/// <param name="WindowsWithout">Those without a single survey.</param>
/// <param name="Parts">Their thirds.</param>
/// <param name="PartsWithout">Thirds without a survey, those of windows without any included.</param>
public sealed record SeasonGap(
    WatershedCode Area, int Season, int StationsBefore, int StationsMissed, int Windows, int WindowsWithout, int Parts, int PartsWithout)
{
    /// <summary>How far back a station counts as one that is listened at (ours): as the score's default window.</summary>
    public const int SeasonsBefore = 3;
}
