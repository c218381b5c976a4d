using NodaTime;
using Xunit;

namespace Indicators.Monitoring.Tests;

public class ProtocolCheckTests
{
    private static readonly GeoPoint Madison = GeoPoint.At(43.0731, -89.4012); // Sunset on 2024-06-20 at 20:40:32 local time (PyEphem 4.1.4).
    private static readonly DateTimeZone Chicago = DateTimeZoneProviders.Tzdb["America/Chicago"];

    private static readonly Protocol Full = Protocol.Default with
    {
        MaximumWindBeaufort = new(3, "for this test"),
        Runs =
        [
            new ProtocolRun("early", new AnnualDate(4, 1), new AnnualDate(4, 30), new(5.6, "for this test")),
            new ProtocolRun("late", new AnnualDate(6, 1), new AnnualDate(6, 30), new(12.8, "for this test")),
        ],
    };

    private static Survey Night => new()
    {
        Id = Id<Survey>.Parse("S1").Value,
        Station = Id<Station>.Parse("ST1").Value,
        Date = new LocalDate(2024, 6, 20),
        Calls = [],
    };

    private static IReadOnlyList<ProtocolBreach> Breaches(Survey survey, Protocol? protocol = null, GeoPoint? place = null) =>
        new ProtocolCheck(protocol ?? Full, Chicago).Breaches(survey, place ?? Madison);

    [Fact]
    public void What_nobody_wrote_down_is_not_checked() => Assert.Empty(Breaches(Night));

    [Fact]
    public void Limits_that_are_null_are_not_checked()
    {
        var survey = Night with { Minutes = 1, StartTime = new LocalTime(14, 0), WindBeaufort = 12, AirTempC = -20 };
        Assert.Empty(Breaches(survey, new Protocol { Name = "none" }));
    }

    [Theory]
    [InlineData(5, false)]
    [InlineData(4.9, true)]
    public void Minutes_below_the_least_are_too_short(double minutes, bool breach) =>
        Assert.Equal(breach, Breaches(Night with { Minutes = minutes }).Contains(ProtocolBreach.TooShort));

    [Theory]
    [InlineData(21, 10, true)]
    [InlineData(21, 11, false)]
    [InlineData(20, 0, true)]
    [InlineData(0, 30, false)]
    public void Start_sooner_after_sunset_than_the_least_is_too_early(int hour, int minute, bool breach) =>
        Assert.Equal(breach, Breaches(Night with { StartTime = new LocalTime(hour, minute) }).Contains(ProtocolBreach.TooEarly));

    [Theory]
    [InlineData(23, 59, false)]
    [InlineData(1, 0, false)]
    [InlineData(1, 1, true)]
    [InlineData(11, 59, true)]
    public void Start_after_the_latest_is_too_late_and_the_night_runs_over_midnight(int hour, int minute, bool breach) =>
        Assert.Equal(breach, Breaches(Night with { StartTime = new LocalTime(hour, minute) }).Contains(ProtocolBreach.TooLate));

    [Fact]
    public void Start_is_not_too_early_where_the_sun_does_not_set()
    {
        var survey = Night with { StartTime = new LocalTime(19, 0) };
        Assert.Empty(Breaches(survey, place: GeoPoint.At(78, -89)));
    }

    [Theory]
    [InlineData(3, false)]
    [InlineData(4, true)]
    public void Wind_above_the_most_is_too_windy(int beaufort, bool breach) =>
        Assert.Equal(breach, Breaches(Night with { WindBeaufort = beaufort }).Contains(ProtocolBreach.TooWindy));

    [Theory]
    [InlineData(4, 5.5, true)]
    [InlineData(4, 5.6, false)]
    [InlineData(6, 12, true)]
    [InlineData(5, -10, false)]
    public void Cold_is_judged_by_the_run_the_date_belongs_to(int month, double degrees, bool breach) =>
        Assert.Equal(breach, Breaches(Night with { Date = new LocalDate(2024, month, 20), AirTempC = degrees }).Contains(ProtocolBreach.TooCold));

    [Fact]
    public void Every_breach_of_one_survey_is_told()
    {
        var survey = Night with { Minutes = 3, StartTime = new LocalTime(2, 0), WindBeaufort = 5, AirTempC = 1 };
        Assert.Equal([ProtocolBreach.TooShort, ProtocolBreach.TooLate, ProtocolBreach.TooWindy, ProtocolBreach.TooCold], Breaches(survey));
    }

    // Far from the limit the sunset of a place nearby decides. It must decide as the place's own would.
    [Theory]
    [InlineData("America/Chicago", -89.4)]
    [InlineData("Pacific/Auckland", 180)]
    [InlineData("Europe/London", -0.001)]
    public void Start_is_too_early_by_the_sunset_of_the_place_itself(string zoneId, double longitude)
    {
        var zone = DateTimeZoneProviders.Tzdb[zoneId];
        int early = 0, all = 0;
        for (double latitude = -54.99; latitude < 70; latitude += 4.17)
        {
            var place = GeoPoint.At(latitude, longitude);
            var check = new ProtocolCheck(Full, zone);
            for (int day = 3; day < 365; day += 19)
            {
                var evening = new LocalDate(2024, 1, 1).PlusDays(day);
                if (SolarTimes.Sunset(place, evening, zone) is not { } sunset)
                    continue;
                foreach (int minutes in new[] { -60, 5, 17, 19, 24, 29, 30, 31, 36, 41, 43, 90 })
                {
                    var start = sunset.Plus(Duration.FromMinutes(minutes)).InZone(zone).TimeOfDay;
                    // Beyond noon to noon it would be another evening's start.
                    if (start < LocalTime.Noon)
                        continue;
                    bool found = check.Breaches(Night with { Date = evening, StartTime = start }, place).Contains(ProtocolBreach.TooEarly);
                    Assert.True(found == minutes < 30, $"{latitude} {evening} {minutes}");
                    all++;
                    early += found ? 1 : 0;
                }
            }
        }
        Assert.InRange(all, 3000, 8000);
        Assert.InRange(early, 0.4 * all, 0.6 * all);
    }
}
