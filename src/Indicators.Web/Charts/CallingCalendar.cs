using System.Xml.Linq;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Web.Charts;

/// <summary>One row of the calendar: a name, the calling window, and the days heard when they may be told.</summary>
internal sealed record CalendarRow(string Name, CallingWindow Window, AnnualDate? First, AnnualDate? Median, AnnualDate? Last);

/// <summary>
/// Months along, a row a species: the calling window as a pale bar, from the first to the last day heard as a line, the
/// middle day heard as a dot, today as an upright line. Wider ones write the names beside the bars, narrow ones above.
/// </summary>
internal static class CallingCalendar
{
    private const int Days = 366, Head = 22, Right = 6;

    public static XElement Draw(IReadOnlyList<CalendarRow> rows, IReadOnlyList<string> months, AnnualDate? today, ChartSize size, string label)
    {
        bool narrow = size.Width < 400;
        double left = narrow ? 4 : Svg.NameColumn(rows.Select(row => row.Name), 200, size.Width);
        int rowHeight = narrow ? 38 : 26;
        double height = Head + (rows.Count * rowHeight) + 4;
        double reach = size.Width - left - Right;
        var picture = Svg.Picture(size.Width, height, $"chart-{size.Name} calendar", label);
        for (int month = 1; month <= 12; month++)
        {
            double from = X(new AnnualDate(month, 1)), to = month == 12 ? left + reach : X(new AnnualDate(month + 1, 1));
            picture.Add(Svg.Line("grid", from, Head - 4, from, height));
            picture.Add(Svg.Text("tick", (from + to) / 2, 12, "middle", narrow ? months[month - 1][..1] : months[month - 1]));
        }
        for (int row = 0; row < rows.Count; row++)
            picture.Add(Row(rows[row], Head + (row * rowHeight)));
        if (today is { } now)
            picture.Add(Svg.Line("today", X(now), Head - 4, X(now), height));
        return picture;

        double X(AnnualDate day) => left + (reach * (day.InYear(2024).DayOfYear - 1) / Days);

        IEnumerable<XElement> Row(CalendarRow row, double top)
        {
            double bar = top + (narrow ? 18 : 5);
            yield return narrow ? Svg.Text("bar-name", left, top + 13, "start", row.Name) : Svg.Text("bar-name", left - 10, top + 17, "end", row.Name);
            foreach (var (from, to) in Spans(row.Window.First, row.Window.Last))
                yield return Svg.Box("calling", X(from), bar, X(to) - X(from) + (reach / Days), 15);
            if (row is not { First: { } first, Last: { } last, Median: { } median })
                yield break;
            foreach (var (from, to) in Spans(first, last))
                yield return Svg.Line("heard", X(from), bar + 7.5, X(to), bar + 7.5);
            yield return Svg.Circle("point", X(median), bar + 7.5, 4);
        }
    }

    // What runs over New Year is drawn at both ends.
    private static IEnumerable<(AnnualDate From, AnnualDate To)> Spans(AnnualDate first, AnnualDate last) => last.CompareTo(first) >= 0
        ? [(first, last)]
        : [(first, new AnnualDate(12, 31)), (new AnnualDate(1, 1), last)];
}
