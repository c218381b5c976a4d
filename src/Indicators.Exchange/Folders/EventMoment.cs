using Indicators.Monitoring;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Exchange.Folders;

/// <summary>When a Darwin Core event began.</summary>
/// <param name="Evening">The evening its night began.</param>
/// <param name="Start">Its local start, or null when no time was given.</param>
/// <param name="IsAfterMidnight">Whether the event carried the next day's date, so that the evening is the day before.</param>
internal readonly record struct EventMoment(LocalDate Evening, LocalTime? Start, bool IsAfterMidnight)
{
    private static readonly LocalTime Noon = LocalTime.Noon;

    private static readonly LocalTimePattern[] Clocks =
    [
        LocalTimePattern.CreateWithInvariantCulture("HH':'mm"),
        LocalTimePattern.CreateWithInvariantCulture("HH':'mm':'ss"),
        LocalTimePattern.CreateWithInvariantCulture("HH':'mm':'ss;fffffffff"),
    ];

    private static readonly OffsetPattern[] Offsets =
    [
        OffsetPattern.CreateWithInvariantCulture("Z+HH':'mm"),
        OffsetPattern.CreateWithInvariantCulture("+HHmm"),
        OffsetPattern.CreateWithInvariantCulture("+HH"),
    ];

    /// <summary>What reading an event's date and time gave.</summary>
    public readonly record struct Reading(EventMoment? Moment, FieldProblem? DateProblem, FieldProblem? TimeProblem);

    /// <summary>A clock time as HH:MM or HH:MM:SS with a fraction or not, or null.</summary>
    public static LocalTime? ParseClock(string text)
    {
        foreach (var pattern in Clocks)
        {
            var time = pattern.Parse(text);
            if (time.Success) return time.Value;
        }
        return null;
    }

    /// <summary>
    /// Reads eventDate, a date or a date and time (ISO 8601-1), and eventTime. A time with an offset is turned to the
    /// programme's zone. A time before noon belongs to the night that began the evening before.
    /// </summary>
    public static Reading Parse(string dateText, string? timeText, DateTimeZone zone)
    {
        const string DateRule = "a date as YYYY-MM-DD, or a date and time as YYYY-MM-DDTHH:MM with an offset or not";
        const string TimeRule = "the start as HH:MM, with an offset or not, or nothing";
        string text = dateText.Trim();
        int split = text.IndexOf('T', StringComparison.Ordinal);
        var date = LocalDatePattern.Iso.Parse(split < 0 ? text : text[..split]);
        var inDate = split < 0 ? null : ParseTime(text[(split + 1)..]);
        if (!date.Success || (split >= 0 && inDate is null))
            return new(null, new FieldProblem(text.Length == 0 ? "" : dateText, "a date", DateRule), null);

        var given = timeText is null ? inDate : ParseTime(timeText);
        if (timeText is not null && given is null)
            return new(null, null, new FieldProblem(timeText, "a time", TimeRule));
        if (timeText is not null && inDate is not null && inDate.Value.Clock != given!.Value.Clock)
            return new(null, null, new FieldProblem(timeText, "the time that eventDate gives", "the same time in both, or a time in one of them"));
        if (given is null)
            return new(new EventMoment(date.Value, null, false), null, null);

        var local = date.Value + given.Value.Clock;
        if ((given.Value.Offset ?? inDate?.Offset) is { } offset)
            local = local.WithOffset(offset).InZone(zone).LocalDateTime;
        bool afterMidnight = local.TimeOfDay < Noon;
        return new(new EventMoment(afterMidnight ? local.Date.PlusDays(-1) : local.Date, local.TimeOfDay, afterMidnight), null, null);
    }

    private static (LocalTime Clock, Offset? Offset)? ParseTime(string text)
    {
        int at = text.IndexOfAny(['Z', '+', '-']);
        if (ParseClock(at < 0 ? text : text[..at]) is not { } clock) return null;
        if (at < 0) return (clock, null);
        foreach (var pattern in Offsets)
        {
            var offset = pattern.Parse(text[at..]);
            if (offset.Success) return (clock, offset.Value);
        }
        return null;
    }
}
