using NodaTime;

namespace Indicators.Monitoring;

/// <summary>When the sun sets.</summary>
/// <remarks>
/// The solar position of the NOAA solar calculator, after Meeus, Astronomical Algorithms (1991), low accuracy. Sunset is
/// the moment the centre of the sun's disc stands at −50 minutes of arc (34 of refraction, 16 of radius), seen from sea
/// level over a flat horizon: the convention of the U.S. Naval Observatory. Within about 2 s of an ephemeris between 25°
/// and 60° of latitude; hills, height and weather move the sunset that people see by minutes.
/// </remarks>
public static class SolarTimes
{
    private const double SunsetAltitudeDegrees = -50.0 / 60;
    private const double DegreesPerHour = 15;
    private const int Refinements = 6;

    /// <summary>A refinement that moves the sunset by less than this is the last: the next would move it by hundreds of times less.</summary>
    private static readonly Duration CloseEnough = Duration.FromMilliseconds(10);

    private static readonly Instant J2000 = Instant.FromUtc(2000, 1, 1, 12, 0);

    /// <summary>The sunset of a local calendar day; null when the sun does not set between its noon and the next midnight (polar day or night).</summary>
    /// <param name="place">Where.</param>
    /// <param name="day">The local calendar day.</param>
    /// <param name="zone">The zone the day is counted in.</param>
    public static Instant? Sunset(GeoPoint place, LocalDate day, DateTimeZone zone)
    {
        var noon = SolarNoonNear(place.Longitude, zone.AtLeniently(day + LocalTime.Noon).ToInstant());
        var sunset = noon + Duration.FromHours(6);
        for (int i = 0; i < Refinements; i++)
        {
            var (declination, equationMinutes) = SunAt(sunset);
            if (HourAngleDegrees(place.Latitude, declination) is not { } hourAngle) return null;
            var before = sunset;
            sunset = noon - Duration.FromMinutes(equationMinutes) + Duration.FromHours(hourAngle / DegreesPerHour);
            if (sunset - before < CloseEnough && before - sunset < CloseEnough) break;
        }
        return sunset;
    }

    /// <summary>Minutes from an evening's sunset to a start, negative before it. A start before noon is the next morning's.</summary>
    /// <param name="sunset">The evening's sunset.</param>
    /// <param name="evening">The evening the night began.</param>
    /// <param name="start">When listening began, local time.</param>
    /// <param name="zone">The zone that time is local to.</param>
    public static double MinutesAfter(Instant sunset, LocalDate evening, LocalTime start, DateTimeZone zone)
    {
        var date = start < LocalTime.Noon ? evening.PlusDays(1) : evening;
        return (zone.AtLeniently(date + start).ToInstant() - sunset).TotalMinutes;
    }

    /// <summary>
    /// The mean solar noon at the longitude that is nearest to an instant. Counting from the place's own noon keeps the
    /// sunset on the right evening where it falls on the next day of universal time.
    /// </summary>
    private static Instant SolarNoonNear(double longitude, Instant instant)
    {
        double hoursFromNoon = (instant - J2000).TotalHours + longitude / DegreesPerHour;
        double offNoon = hoursFromNoon - 24 * Math.Round(hoursFromNoon / 24);
        return instant - Duration.FromHours(offNoon);
    }

    /// <summary>The hour angle of sunset in degrees, or null when the sun stays above or below the horizon.</summary>
    private static double? HourAngleDegrees(double latitude, double declination)
    {
        double phi = Radians(latitude);
        double cosine = (Math.Sin(Radians(SunsetAltitudeDegrees)) - Math.Sin(phi) * Math.Sin(declination)) / (Math.Cos(phi) * Math.Cos(declination));
        return Math.Abs(cosine) <= 1 ? double.RadiansToDegrees(Math.Acos(cosine)) : null;
    }

    /// <summary>The sun's declination in radians, and how many minutes the true sun runs ahead of the mean one.</summary>
    private static (double Declination, double EquationMinutes) SunAt(Instant instant)
    {
        double t = (instant - J2000).TotalDays / 36525;
        double meanLongitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
        double anomaly = Radians(357.52911 + t * (35999.05029 - 0.0001537 * t));
        double eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
        double centre = Math.Sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t))
            + Math.Sin(2 * anomaly) * (0.019993 - 0.000101 * t)
            + Math.Sin(3 * anomaly) * 0.000289;
        double node = Radians(125.04 - 1934.136 * t);
        double apparentLongitude = Radians(meanLongitude + centre - 0.00569 - 0.00478 * Math.Sin(node));
        double obliquity = Radians(23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))) / 60) / 60 + 0.00256 * Math.Cos(node));
        double declination = Math.Asin(Math.Sin(obliquity) * Math.Sin(apparentLongitude));

        double y = Math.Pow(Math.Tan(obliquity / 2), 2);
        double twoL = 2 * Radians(meanLongitude);
        double equation = y * Math.Sin(twoL)
            - 2 * eccentricity * Math.Sin(anomaly)
            + 4 * eccentricity * y * Math.Sin(anomaly) * Math.Cos(twoL)
            - 0.5 * y * y * Math.Sin(2 * twoL)
            - 1.25 * eccentricity * eccentricity * Math.Sin(2 * anomaly);
        return (declination, 4 * double.RadiansToDegrees(equation));
    }

    private static double Radians(double degrees) => double.DegreesToRadians(degrees);
}
