using Indicators.Analysis.Options;
using Indicators.Monitoring;
using NodaTime;

namespace Indicators.Analysis.Cells;

/// <summary>How a survey stands to the protocol's limits.</summary>
internal enum Kept : byte
{
    /// <summary>Nothing is written down that a limit is about.</summary>
    Unknown,

    /// <summary>Every limit that could be checked was kept.</summary>
    Yes,

    /// <summary>At least one was not.</summary>
    No,
}

/// <summary>
/// Who listened on each visit, as a number without a name, and whether the protocol was kept. Names and places end here.
/// </summary>
internal sealed class VisitFacts
{
    /// <summary>Nobody was written down.</summary>
    public const int NobodyNamed = -1;

    private const int NotWritten = -1;

    private readonly int[] _observers;
    private readonly Kept[] _kept;
    private readonly int[] _minutes;

    private VisitFacts(int[] observers, Kept[] kept, int[] minutes, int count) =>
        (_observers, _kept, _minutes, ObserverCount) = (observers, kept, minutes, count);

    /// <summary>How many different observers there are.</summary>
    public int ObserverCount { get; }

    /// <summary>The observer of a visit, from 0, or <see cref="NobodyNamed"/>.</summary>
    public int Observer(int visit) => _observers[visit];

    /// <summary>Whether a visit kept the protocol.</summary>
    public Kept Protocol(int visit) => _kept[visit];

    /// <summary>Whole minutes of listening, or −1 when nobody wrote them down.</summary>
    public int Minutes(int visit) => _minutes[visit];

    /// <summary>Looks at every visit once.</summary>
    /// <param name="cells">The cells.</param>
    /// <param name="surveys">The surveys, one a visit.</param>
    /// <param name="settings">The protocol and the time zone.</param>
    public static VisitFacts Of(CellTable cells, Survey[] surveys, ProgrammeSettings settings)
    {
        var visits = cells.Visits;
        var observers = new int[visits.Count];
        var kept = new Kept[visits.Count];
        int[] minutes = [.. surveys.Select(s => s.Minutes is { } length ? (int)Math.Round(length) : NotWritten)];
        // Spelled alike but for case and spaces around is the same observer.
        var numbers = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var check = new ProtocolCheck(settings.Protocol, DateTimeZoneProviders.Tzdb[settings.TimeZone]);
        for (int station = 0; station < cells.Stations.Count; station++)
        {
            for (int visit = visits.First(station); visit < visits.First(station + 1); visit++)
            {
                var survey = surveys[visit];
                observers[visit] = survey.Observer?.Trim() is { Length: > 0 } name ? Number(name) : NobodyNamed;
                kept[visit] = !CanBeChecked(survey, settings.Protocol) ? Kept.Unknown
                    : check.Breaches(survey, cells.Stations[station].Place).Count == 0 ? Kept.Yes : Kept.No;
            }
        }
        return new VisitFacts(observers, kept, minutes, numbers.Count);

        int Number(string name)
        {
            if (!numbers.TryGetValue(name, out int number))
                numbers[name] = number = numbers.Count;
            return number;
        }
    }

    private static bool CanBeChecked(Survey survey, Protocol protocol) =>
        (survey.Minutes is not null && protocol.MinimumMinutes is not null)
        || (survey.StartTime is not null && (protocol.EarliestMinutesAfterSunset is not null || protocol.LatestStart is not null))
        || (survey.WindBeaufort is not null && protocol.MaximumWindBeaufort is not null)
        || (survey.AirTempC is not null && protocol.RunOf(survey.Date)?.MinimumAirTempC is not null);
}
