using System.Text;
using Ical.Net;
using Ical.Net.DataTypes;
using Indicators.Exchange.Sharing;
using Indicators.Monitoring;
using NodaTime;
using Xunit;

namespace Indicators.Exchange.Tests.Sharing;

public sealed class WindowCalendarTests
{
    private static readonly Instant Made = Instant.FromUtc(2026, 9, 2, 12, 30, 15);

    private static Calendar Round(params YearlyWindow[] windows) =>
        Calendar.Load(Encoding.UTF8.GetString(WindowCalendar.Write("Frogs", 2026, Made, windows)))!;

    private static YearlyWindow Window(AnnualDate first, AnnualDate last) => new(NameUuid.Of($"{first}{last}"), "Toad", "Note", new CallingWindow(first, last));

    [Theory]
    [InlineData(4, 1, 6, 15, "2026-04-01", "2026-06-15")]
    [InlineData(5, 3, 5, 3, "2026-05-03", "2026-05-03")]
    [InlineData(11, 20, 2, 10, "2026-11-20", "2027-02-10")]
    [InlineData(1, 1, 12, 31, "2026-01-01", "2026-12-31")]
    [InlineData(2, 29, 4, 30, "2026-02-28", "2026-04-30")]
    public void Event_lasts_from_the_first_day_to_the_last_and_comes_back_every_year(int firstMonth, int firstDay, int lastMonth, int lastDay, string first, string last)
    {
        var window = Window(new AnnualDate(firstMonth, firstDay), new AnnualDate(lastMonth, lastDay));
        var read = Assert.Single(Round(window).Events);
        Assert.Equal(first, read.Start!.Date.ToString("yyyy-MM-dd", null));
        Assert.Equal(last, read.End!.Date.AddDays(-1).ToString("yyyy-MM-dd", null));
        Assert.False(read.Start.HasTime);
        Assert.Equal(Made.ToDateTimeUtc(), read.DtStamp!.AsUtc);
        // Thirty years of it, leap years among them, each on the same first day.
        var starts = read.GetOccurrences(new CalDateTime(2026, 1, 1)).Take(30).Select(each => each.Period.StartTime.Date).ToList();
        Assert.Equal(Enumerable.Range(0, 30).Select(year => read.Start.Date.AddYears(year)), starts);
    }

    [Fact]
    public void Lines_are_folded_at_75_octets_never_inside_a_letter_and_read_back_whole()
    {
        string title = string.Concat(Enumerable.Repeat("Étang du Héron à l'est, ", 12)) + "fin; 100 %\\";
        string text = Encoding.UTF8.GetString(WindowCalendar.Write("Name", 2026, Made, [Window(new AnnualDate(4, 1), new AnnualDate(5, 1)) with { Title = title }]));
        Assert.All(text.Split("\r\n"), line => Assert.InRange(Encoding.UTF8.GetByteCount(line), 0, 75));
        Assert.DoesNotContain('\uFFFD', text);
        Assert.Equal(title, Assert.Single(Calendar.Load(text)!.Events).Summary);
    }

    [Fact]
    public void Same_windows_make_the_same_bytes()
    {
        var window = Window(new AnnualDate(4, 1), new AnnualDate(5, 1));
        Assert.Equal(WindowCalendar.Write("Name", 2026, Made, [window]), WindowCalendar.Write("Name", 2026, Made, [window]));
    }

    // RFC 9562, appendix B.2: www.example.com in the namespace of domain names, with SHA-256.
    [Fact]
    public void Id_of_a_name_is_the_one_of_the_standards_example() =>
        Assert.Equal(new Guid("5c146b14-3c52-8afd-938a-375d0df1fbf6"), NameUuid.Of(new Guid("6ba7b810-9dad-11d1-80b4-00c04fd430c8"), "www.example.com"));
}
