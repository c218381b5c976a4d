using NodaTime;

namespace Indicators.Monitoring;

/// <summary>Which limits of a protocol a survey did not keep. What nobody wrote down is not checked.</summary>
/// <param name="protocol">The limits.</param>
/// <param name="zone">The zone survey times are local to.</param>
public sealed class ProtocolCheck(Protocol protocol, DateTimeZone zone)
{
    /// <summary>
    /// Most surveys begin so long after sunset that the sunset of a place nearby will do: the middle of a square of half a
    /// degree. Up to 55° of latitude it is off by less than 3 minutes: one for a quarter of a degree of longitude, and for
    /// the latitude tan δ sec² φ / sin H degrees of hour angle a degree, at most 1.7 with δ = 23.44°.
    /// </summary>
    private const double SquaresPerDegree = 2;
    private const double SquaresUpToLatitude = 55;
    private const double NearMinutes = 10;
    private const double LastLongitude = 179.9;

    private readonly Dictionary<(GeoPoint Place, LocalDate Date), Instant?> _sunsets = [];

    /// <summary>The limits that were not kept, in the order of <see cref="ProtocolBreach"/>; empty when all were.</summary>
    /// <param name="survey">The survey.</param>
    /// <param name="place">Where its station stands, for the sunset.</param>
    public IReadOnlyList<ProtocolBreach> Breaches(Survey survey, GeoPoint place)
    {
        List<ProtocolBreach>? breaches = null;
        if (survey.Minutes < protocol.MinimumMinutes?.Value) Add(ProtocolBreach.TooShort);
        if (survey.StartTime is { } start)
        {
            if (protocol.EarliestMinutesAfterSunset is { } earliest && IsTooEarly(survey.Date, start, place, earliest.Value))
                Add(ProtocolBreach.TooEarly);
            if (protocol.LatestStart is { } latest && TicksFromNoon(start) > TicksFromNoon(latest.Value))
                Add(ProtocolBreach.TooLate);
        }
        if (survey.WindBeaufort > protocol.MaximumWindBeaufort?.Value) Add(ProtocolBreach.TooWindy);
        if (survey.AirTempC < protocol.RunOf(survey.Date)?.MinimumAirTempC?.Value) Add(ProtocolBreach.TooCold);
        return breaches ?? (IReadOnlyList<ProtocolBreach>)[];

        void Add(ProtocolBreach breach) => (breaches ??= []).Add(breach);
    }

    private bool IsTooEarly(LocalDate evening, LocalTime start, GeoPoint place, int earliest)
    {
        if (Math.Abs(place.Latitude) < SquaresUpToLatitude
            && MinutesAfterSunset(evening, start, MiddleOfSquare(place)) is { } roughly
            && Math.Abs(roughly - earliest) > NearMinutes)
            return roughly < earliest;
        return MinutesAfterSunset(evening, start, place) < earliest;
    }

    private static GeoPoint MiddleOfSquare(GeoPoint place) => GeoPoint.At(Middle(place.Latitude), Middle(Math.Min(place.Longitude, LastLongitude)));

    private static double Middle(double degrees) => (Math.Floor(degrees * SquaresPerDegree) + 0.5) / SquaresPerDegree;

    /// <summary>
    /// Whole minutes from the evening's sunset to the start, as a clock and an almanac would give them; negative before it,
    /// null when the sun does not set.
    /// </summary>
    private double? MinutesAfterSunset(LocalDate evening, LocalTime start, GeoPoint place)
    {
        if (!_sunsets.TryGetValue((place, evening), out var sunset))
            _sunsets[(place, evening)] = sunset = SolarTimes.Sunset(place, evening, zone);
        return sunset is { } set ? Math.Round(SolarTimes.MinutesAfter(set, evening, start, zone)) : null;
    }

    /// <summary>A night runs from noon to noon, so 01:00 is later than 23:00.</summary>
    private static long TicksFromNoon(LocalTime time) =>
        (time.TickOfDay - LocalTime.Noon.TickOfDay + NodaConstants.TicksPerDay) % NodaConstants.TicksPerDay;
}
