using NodaTime;

namespace Indicators.Monitoring;

/// <summary>One limit of a survey protocol and the document that sets it.</summary>
/// <param name="Value">The limit, in the unit its name gives.</param>
/// <param name="Source">The published document the limit comes from.</param>
public sealed record ProtocolLimit<T>(T Value, string Source);

/// <summary>One run of a season: an early, middle or late visit, with its own dates and least temperature.</summary>
/// <param name="Name">What people call the run.</param>
/// <param name="First">Its first day, included.</param>
/// <param name="Last">Its last day, included.</param>
/// <param name="MinimumAirTempC">The least air temperature in degrees Celsius, or null for none.</param>
public sealed record ProtocolRun(string Name, AnnualDate First, AnnualDate Last, ProtocolLimit<double>? MinimumAirTempC);

/// <summary>
/// The limits a programme surveys under. Published protocols differ, so a protocol is data and every limit names its
/// source. A null limit is not checked.
/// </summary>
public sealed record Protocol
{
    /// <summary>What the protocol is called.</summary>
    public required string Name { get; init; }

    /// <summary>The least listening time in minutes.</summary>
    public ProtocolLimit<double>? MinimumMinutes { get; init; }

    /// <summary>The earliest start, in minutes after sunset.</summary>
    public ProtocolLimit<int>? EarliestMinutesAfterSunset { get; init; }

    /// <summary>The latest start, local clock time; a time before noon is the next morning's.</summary>
    public ProtocolLimit<LocalTime>? LatestStart { get; init; }

    /// <summary>The strongest wind on the Beaufort scale, 0 to 12.</summary>
    public ProtocolLimit<int>? MaximumWindBeaufort { get; init; }

    /// <summary>The season's runs in order; empty when the programme has none.</summary>
    public IReadOnlyList<ProtocolRun> Runs { get; init; } = [];

    /// <summary>The run a date belongs to, or null.</summary>
    public ProtocolRun? RunOf(LocalDate date) => Runs.FirstOrDefault(run => new CallingWindow(run.First, run.Last).Contains(date));

    private const string UsgsSheet = "USGS national calling-survey protocol, 2014 data sheet (omb.report ICR 201408-1028-002)";
    private const string MassachusettsSheet = "Massachusetts data sheet of the national protocol";

    /// <summary>
    /// The default: 5 minutes of listening, begun at least 30 minutes after sunset and by 01:00. Wind and temperature are
    /// not limited until the programme gives the limits and the source it surveys under.
    /// </summary>
    public static Protocol Default { get; } = new()
    {
        Name = "Five-minute evening listening survey",
        MinimumMinutes = new(5, UsgsSheet),
        EarliestMinutesAfterSunset = new(30, MassachusettsSheet),
        LatestStart = new(new LocalTime(1, 0), UsgsSheet),
    };
}

/// <summary>Which limit of the protocol a survey did not keep.</summary>
public enum ProtocolBreach
{
    /// <summary>Listened less than the protocol's minutes.</summary>
    TooShort,

    /// <summary>Began sooner after sunset than the protocol allows.</summary>
    TooEarly,

    /// <summary>Began later than the protocol allows.</summary>
    TooLate,

    /// <summary>Stronger wind than the protocol allows.</summary>
    TooWindy,

    /// <summary>Colder than the protocol allows for the run.</summary>
    TooCold,
}
