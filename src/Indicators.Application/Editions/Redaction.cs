using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Application.Editions;

/// <summary>
/// Makes the copy of the surveys that an edition gives away: no observer, no notes, no coordinates, and no call of a
/// protected species. What is not there cannot leak.
/// </summary>
public static class Redaction
{
    /// <summary>The surveys up to a season (null for all), by date, then id, each stripped when its turn comes.</summary>
    public static IEnumerable<PublishedSurvey> Surveys(ProgrammeData data, int? throughSeason)
    {
        var stations = data.Stations.ToDictionary(station => station.Id);
        var secret = Protected(data);
        return data.Surveys
            .Where(survey => throughSeason is not { } last || survey.Date.Year <= last)
            .OrderBy(survey => survey.Date).ThenBy(survey => survey.Id)
            .Select(survey => new PublishedSurvey(
                survey.Id,
                survey.Station,
                stations[survey.Station].Wetland,
                stations[survey.Station].Watershed,
                survey.Date,
                survey.StartTime,
                survey.Minutes,
                survey.AirTempC,
                survey.WindBeaufort,
                survey.SkyCode,
                survey.Noise,
                [.. survey.Calls.Where(call => !secret.Contains(call.Species))]));
    }

    /// <summary>The species whose calls no edition may tell.</summary>
    internal static HashSet<Id<Species>> Protected(ProgrammeData data) => [.. data.Species.Where(species => species.Protected).Select(species => species.Id)];
}
