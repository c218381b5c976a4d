using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Results;

/// <summary>
/// One accepted survey as an edition publishes it: no observer, no notes, no coordinates, and no call of a protected species.
/// </summary>
/// <param name="Id">The survey.</param>
/// <param name="Station">Where.</param>
/// <param name="Wetland">The wetland listened to.</param>
/// <param name="Watershed">The smallest watershed.</param>
/// <param name="Date">The evening.</param>
/// <param name="StartTime">Local start, or null.</param>
/// <param name="Minutes">Minutes of listening, or null.</param>
/// <param name="AirTempC">Air temperature in °C, or null.</param>
/// <param name="WindBeaufort">Wind force 0 to 12, or null.</param>
/// <param name="SkyCode">Sky code as written, or null.</param>
/// <param name="Noise">Noise as written, or null.</param>
/// <param name="Calls">What was heard of species that are not protected.</param>
public sealed record PublishedSurvey(
    Id<Survey> Id,
    Id<Station> Station,
    Id<Wetland> Wetland,
    WatershedCode Watershed,
    LocalDate Date,
    LocalTime? StartTime,
    double? Minutes,
    double? AirTempC,
    int? WindBeaufort,
    string? SkyCode,
    string? Noise,
    IReadOnlyList<Call> Calls);
