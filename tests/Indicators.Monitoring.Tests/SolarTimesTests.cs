using NodaTime;
using NodaTime.Text;
using Xunit;

namespace Indicators.Monitoring.Tests;

public class SolarTimesTests
{
    private static Instant? Sunset(double latitude, double longitude, string day, string zone) =>
        SolarTimes.Sunset(GeoPoint.At(latitude, longitude), LocalDatePattern.Iso.Parse(day).Value, DateTimeZoneProviders.Tzdb[zone]);

    private static double SecondsFrom(string utc, Instant? actual) => (actual!.Value - InstantPattern.ExtendedIso.Parse(utc).Value).TotalSeconds;

    /// <summary>
    /// Computed with the ephemeris library PyEphem 4.1.4: centre of the disc at −50′, no air pressure, sea level. The
    /// formulas here are of low accuracy (Meeus 1991), hence 3 s.
    /// </summary>
    [Theory]
    [InlineData(24.5551, -81.78, "2024-03-10", "America/New_York", "2024-03-10T23:34:10Z")]
    [InlineData(25.9017, -97.4975, "2024-11-03", "America/Chicago", "2024-11-03T23:46:33Z")]
    [InlineData(29.9511, -90.0715, "2024-03-09", "America/Chicago", "2024-03-10T00:05:09Z")]
    [InlineData(35.7796, -78.6382, "2024-04-15", "America/New_York", "2024-04-15T23:48:25Z")]
    [InlineData(39.9612, -82.9988, "2024-03-10", "America/New_York", "2024-03-10T23:34:12Z")]
    [InlineData(39.0993, -76.8483, "2024-11-03", "America/New_York", "2024-11-03T22:03:39Z")]
    [InlineData(43.0731, -89.4012, "2024-06-20", "America/Chicago", "2024-06-21T01:40:32Z")]
    [InlineData(46.7867, -92.1005, "2024-07-01", "America/Chicago", "2024-07-02T02:05:56Z")]
    [InlineData(43.6532, -79.3832, "2024-03-10", "America/Toronto", "2024-03-10T23:18:18Z")]
    [InlineData(46.5197, 6.6323, "2024-03-31", "Europe/Zurich", "2024-03-31T18:01:31Z")]
    [InlineData(51.5074, -0.1278, "2024-10-27", "Europe/London", "2024-10-27T16:41:55Z")]
    [InlineData(60.0, 25.0, "2024-06-20", "Europe/Helsinki", "2024-06-20T19:47:44Z")]
    public void Sunset_agrees_with_an_ephemeris(double latitude, double longitude, string day, string zone, string utc) =>
        Assert.InRange(SecondsFrom(utc, Sunset(latitude, longitude, day, zone)), -3, 3);

    /// <summary>
    /// NREL/TP-560-34302 (Reda and Andreas 2008), Table A2.1, longitude 0, universal time; the same convention of −50′.
    /// </summary>
    [Theory]
    [InlineData(35, "1994-01-02", "1994-01-02T16:59:55.9Z")]
    [InlineData(-35, "1996-07-05", "1996-07-05T17:01:04.5Z")]
    [InlineData(-35, "2004-12-04", "2004-12-04T19:02:02.5Z")]
    public void Sunset_agrees_with_a_published_table(double latitude, string day, string utc) =>
        Assert.InRange(SecondsFrom(utc, Sunset(latitude, 0, day, "Etc/UTC")), -3, 3);

    /// <summary>
    /// 39 N 105 W: on 2 August 2015 the sun set at 19:10:29 mountain standard time (PyEphem). 19:11:31 is the sunset of
    /// the evening before, which a reader gets who counts days in universal time.
    /// </summary>
    [Fact]
    public void Sunset_is_that_of_the_local_evening_when_universal_time_is_a_day_ahead()
    {
        Assert.InRange(SecondsFrom("2015-08-03T02:10:29Z", Sunset(39, -105, "2015-08-02", "America/Denver")), -3, 3);
        Assert.InRange(SecondsFrom("2015-08-02T02:11:31Z", Sunset(39, -105, "2015-08-01", "America/Denver")), -3, 3);
    }

    [Fact]
    public void Sunset_is_that_of_the_local_evening_where_the_clock_runs_a_day_from_the_longitude()
    {
        // Kiritimati keeps UTC+14 at 157° W.
        var zone = DateTimeZoneProviders.Tzdb["Pacific/Kiritimati"];
        var sunset = SolarTimes.Sunset(GeoPoint.At(1.87, -157.4), new LocalDate(2024, 3, 20), zone)!.Value.InZone(zone);
        Assert.Equal(new LocalDate(2024, 3, 20), sunset.Date);
        Assert.Equal(18, sunset.Hour);
    }

    [Theory]
    [InlineData("2024-06-21")]
    [InlineData("2024-12-21")]
    public void Sunset_does_not_exist_in_polar_day_and_polar_night(string day) => Assert.Null(Sunset(78.2, 15.6, day, "Arctic/Longyearbyen"));
}
