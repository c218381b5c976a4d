using Indicators.Exchange.Folders;
using NodaTime;
using NodaTime.Text;
using Xunit;

namespace Indicators.Exchange.Tests.Folders;

/// <summary>Dates and times of Darwin Core events (eventDate and eventTime follow ISO 8601-1:2019).</summary>
public class EventMomentTests
{
    private static readonly DateTimeZone Chicago = DateTimeZoneProviders.Tzdb["America/Chicago"];

    [Theory]
    [InlineData("2024-05-02", null, "2024-05-02", null, false)]
    [InlineData("2024-05-02", "21:15", "2024-05-02", "21:15:00", false)]
    [InlineData("2024-05-03", "00:40", "2024-05-02", "00:40:00", true)]
    [InlineData("2024-05-02T21:15:30", null, "2024-05-02", "21:15:30", false)]
    [InlineData("2024-05-03T01:10", null, "2024-05-02", "01:10:00", true)]
    [InlineData("2024-05-03T12:00", null, "2024-05-03", "12:00:00", false)]
    // Chicago is five hours behind universal time in May and six in January.
    [InlineData("2024-05-03T02:15Z", null, "2024-05-02", "21:15:00", false)]
    [InlineData("2024-05-03T06:10:00Z", null, "2024-05-02", "01:10:00", true)]
    [InlineData("2024-05-03T01:10:00-05:00", null, "2024-05-02", "01:10:00", true)]
    [InlineData("2024-05-03T01:10:00-0500", null, "2024-05-02", "01:10:00", true)]
    [InlineData("2024-01-03T01:10:00-05", null, "2024-01-02", "00:10:00", true)]
    [InlineData("2024-05-03", "02:15Z", "2024-05-02", "21:15:00", false)]
    [InlineData("2024-05-02T21:15", "21:15", "2024-05-02", "21:15:00", false)]
    public void Event_belongs_to_the_evening_its_night_began(string date, string? time, string evening, string? start, bool afterMidnight)
    {
        var read = EventMoment.Parse(date, time, Chicago);
        Assert.Null(read.DateProblem);
        Assert.Null(read.TimeProblem);
        var expectedStart = start is null ? (LocalTime?)null : LocalTimePattern.ExtendedIso.Parse(start).Value;
        Assert.Equal(new EventMoment(LocalDatePattern.Iso.Parse(evening).Value, expectedStart, afterMidnight), read.Moment);
    }

    [Theory]
    [InlineData("")]
    [InlineData("2024-05")]
    [InlineData("2024-02-30")]
    [InlineData("2024-05-03T25:00")]
    [InlineData("2024-05-03T01:00+99")]
    [InlineData("2024-05-03/2024-05-04")]
    [InlineData("03/05/2024")]
    public void Date_that_is_none_is_a_problem(string date) => Assert.NotNull(EventMoment.Parse(date, null, Chicago).DateProblem);

    [Theory]
    [InlineData("2024-05-03", "9 pm")]
    [InlineData("2024-05-03", "21:15/21:20")]
    [InlineData("2024-05-03T21:15", "21:16")]
    public void Time_that_is_none_or_disagrees_is_a_problem(string date, string time) => Assert.NotNull(EventMoment.Parse(date, time, Chicago).TimeProblem);
}
