using System.Xml.Linq;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Web.Charts;
using Indicators.Wording;
using NodaTime;

namespace Indicators.Web.Reading;

/// <summary>The calendar of calls in an area, in the order in which species begin.</summary>
internal sealed class CallsOfTheYear
{
    private readonly PublishedEdition _edition;
    private readonly string _area;
    private readonly WatershedCode _code;
    private readonly IReadOnlyCollection<Id<Species>> _expected;
    private readonly IReadOnlyList<CallingTime> _times;
    private readonly IReadOnlyList<CalendarRow> _rows;
    private readonly string _picture;

    public CallsOfTheYear(PublishedEdition edition, Area area, IEnumerable<CallingTime> times)
    {
        _edition = edition;
        _area = PublishedEdition.NameOf(area);
        (_code, _expected) = (area.Code, [.. area.Expected]);
        _times = [.. times.OrderBy(time => time.Window.First).ThenBy(time => time.Window.Last).ThenBy(time => time.Species)];
        _rows = [.. _times.Select(time => new CalendarRow(Name(time), time.Window, time.FirstHeard, time.MedianHeard, time.LastHeard))];
        _picture = CalendarSentences.Picture(_area, [.. _rows.Select(row => (row.Name, row.Window))]);
    }

    /// <summary>Days heard of one species, a row an area; null when there are none.</summary>
    public static FactTable? OfSpecies(PublishedEdition edition, Id<Species> species, IEnumerable<WatershedCode> order)
    {
        var times = edition.CallingTimesOf(species).ToDictionary(time => time.Area);
        string caption = CalendarSentences.Caption(edition.NameOf(species));
        return times.Count == 0 ? null : new FactTable(
            caption,
            [new(Columns.Watershed), .. CalendarSentences.Columns.Select((name, place) => new FactColumn(name, place == 4))],
            [.. order.Where(times.ContainsKey).Select(area => new FactRow(Phrases.Capital(edition.NameOf(area)), CalendarSentences.Cells(times[area]), $"~/watersheds/{area}"))],
            Headings.TableOf(caption));
    }

    /// <summary>The path of the same windows as a calendar file; null when it would be empty.</summary>
    public string? File => Windows.Count == 0 ? null : $"watersheds/{_code}/calling.ics";

    /// <summary>What a calendar to take away holds: species that are expected here. A protected one goes into nobody's plans for the evening.</summary>
    public IReadOnlyList<(CallingTime Time, string Name)> Windows =>
        [.. _times.Where(time => _expected.Contains(time.Species) && _edition.SpeciesOf(time.Species) is { Protected: false }).Select(time => (time, Name(time)))];

    public bool IsEmpty => _rows.Count == 0;

    public XElement Draw(ChartSize size, AnnualDate? today) => CallingCalendar.Draw(_rows, CalendarSentences.ShortMonths, today, size, _picture);

    /// <summary>The table under it.</summary>
    public FactTable Table() => new(
        CalendarSentences.Caption(_area),
        [new(Columns.Species), .. CalendarSentences.Columns.Select((name, place) => new FactColumn(name, place == 4))],
        [.. _times.Select(time => new FactRow(Name(time), CalendarSentences.Cells(time), $"~/species/{Uri.EscapeDataString(time.Species.ToString())}"))],
        Headings.TableOf(CalendarSentences.Caption(_area)));

    /// <summary>What may be heard in a month, in sentences; a line a species.</summary>
    public (string Answer, IReadOnlyList<string> Lines) InMonth(int month)
    {
        var calling = _times.Where(time => Touches(time.Window, month)).ToList();
        string answer = CalendarSentences.InMonth(month, calling.Count);
        if (calling.Count > 0)
            return (answer, [.. calling.Select(time => CalendarSentences.Line(time, Name(time)))]);
        var next = _times.OrderBy(time => (time.Window.First.Month - month + 12) % 12).ThenBy(time => time.Window.First.Day).FirstOrDefault();
        return (next is null ? answer : $"{answer} {CalendarSentences.Next(_edition.NameOf(next.Species), next.Window.First)}", []);
    }

    private string Name(CallingTime time) => Phrases.Capital(_edition.NameOf(time.Species));

    private static bool Touches(CallingWindow window, int month)
    {
        int first = window.First.Month, last = window.Last.Month;
        return window.Wraps ? month >= first || month <= last : month >= first && month <= last;
    }
}
