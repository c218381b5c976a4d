using Indicators.Monitoring;
using NodaTime;
using NodaTime.Text;

namespace Indicators.Storage;

/// <summary>How dates, times, days of the year and instants stand in text columns: ISO 8601, in every culture.</summary>
internal static class StoredText
{
    private static readonly LocalTimePattern Minutes = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    internal static string Of(LocalDate date) => LocalDatePattern.Iso.Format(date);

    internal static string Of(LocalTime time) =>
        time.NanosecondOfDay % NodaConstants.NanosecondsPerMinute == 0 ? Minutes.Format(time) : LocalTimePattern.ExtendedIso.Format(time);

    internal static string Of(Instant instant) => InstantPattern.ExtendedIso.Format(instant);

    internal static string Of(AnnualDate day) => CallingWindow.FormatDay(day);

    internal static LocalDate Date(string text) => LocalDatePattern.Iso.Parse(text).Value;

    internal static LocalTime Time(string text) =>
        text.Length == 5 ? Minutes.Parse(text).Value : LocalTimePattern.ExtendedIso.Parse(text).Value;

    internal static Instant Instant(string text) => InstantPattern.ExtendedIso.Parse(text).Value;

    internal static CallingWindow Window(string first, string last) =>
        new(CallingWindow.ParseDay(first).Value, CallingWindow.ParseDay(last).Value);

    internal static WatershedCode Code(string text) => WatershedCode.Parse(text).Value;

    internal static Id<T> Id<T>(string text)
        where T : IIdentified => Monitoring.Id<T>.Parse(text).Value;
}
