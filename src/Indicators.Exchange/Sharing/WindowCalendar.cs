using System.Text;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Exchange.Sharing;

/// <summary>One calling window as it stands in a calendar, on the same days every year.</summary>
/// <param name="Id">Its id, which never changes.</param>
/// <param name="Title">What is read in the calendar.</param>
/// <param name="Note">What stands behind it.</param>
/// <param name="Window">First and last day, both included.</param>
public sealed record YearlyWindow(Guid Id, string Title, string Note, CallingWindow Window);

/// <summary>Calling windows as an iCalendar file, RFC 5545: all-day events that come back every year and keep nobody busy.</summary>
/// <remarks>
/// An event lasts as many days every year as in the first one, so a window over the end of February is a day short in leap
/// years. A window that opens on 29 February opens on the 28th here: a yearly rule would leave most years out.
/// </remarks>
public static class WindowCalendar
{
    /// <summary>Its media type.</summary>
    public const string MediaType = "text/calendar";

    /// <summary>The file as UTF-8.</summary>
    /// <param name="name">What the calendar is called.</param>
    /// <param name="firstYear">The year of the first events.</param>
    /// <param name="stamped">When its content came to be.</param>
    /// <param name="windows">Its events; at least one, for a calendar without any is none.</param>
    public static byte[] Write(string name, int firstYear, Instant stamped, IEnumerable<YearlyWindow> windows)
    {
        var calendar = new Calendar { ProductId = "-//Indicators//Calling windows//EN" };
        // RFC 7986; the second is what many programs read in its place.
        calendar.AddProperty("NAME", name);
        calendar.AddProperty("X-WR-CALNAME", name);
        calendar.Events.AddRange(windows.Select(window => Event(window, firstYear, stamped)));
        return Encoding.UTF8.GetBytes(new CalendarSerializer().SerializeToString(calendar)!);
    }

    private static CalendarEvent Event(YearlyWindow yearly, int year, Instant stamped)
    {
        var (first, last) = yearly.Window;
        var start = first is { Month: 2, Day: 29 } ? new LocalDate(year, 2, 28) : first.InYear(year);
        var end = last.InYear(yearly.Window.Wraps ? year + 1 : year).PlusDays(1);
        return new CalendarEvent
        {
            Uid = yearly.Id.ToString(),
            DtStamp = new CalDateTime(stamped.ToDateTimeUtc()),
            Start = Day(start),
            // The day after the last one, as the standard counts.
            End = Day(end),
            RecurrenceRule = new(FrequencyType.Yearly),
            Summary = yearly.Title,
            Description = yearly.Note,
            Transparency = TransparencyType.Transparent,
        };
    }

    private static CalDateTime Day(LocalDate date) => new(date.Year, date.Month, date.Day);
}
