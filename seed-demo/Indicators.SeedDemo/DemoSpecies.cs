using Indicators.Monitoring;
using NodaTime;

namespace Indicators.SeedDemo;

/// <summary>One visit round of a season.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="First">Its first evening.</param>
/// <param name="Last">Its last evening.</param>
/// <param name="MeanTempC">The usual evening air temperature in it.</param>
public sealed record DemoRun(string Name, AnnualDate First, AnnualDate Last, double MeanTempC)
{
    public static IReadOnlyList<DemoRun> All { get; } =
    [
        new("early", new(4, 12), new(4, 30), 9),
        new("middle", new(5, 18), new(6, 4), 15),
        new("late", new(6, 22), new(7, 10), 20),
    ];
}

/// <summary>
/// A species of the demo and the numbers that draw its calls. Levels, slopes and spreads are on the logit scale of
/// <see cref="CallModel"/>; all of them, and the coefficients of conservatism, are invented for the demo.
/// </summary>
public sealed record DemoSpecies
{
    public required string Id { get; init; }
    public required string ScientificName { get; init; }
    public required string CommonName { get; init; }

    /// <summary>What the demo's people call it in Spanish; their own words, no list's.</summary>
    public required string SpanishName { get; init; }

    /// <summary>When it calls. A run lies in the window whole or not at all.</summary>
    public required CallingWindow Window { get; init; }

    /// <summary>Coefficient of conservatism, 0–10, invented.</summary>
    public required int Conservatism { get; init; }

    public bool Protected { get; init; }

    /// <summary>Share of the wetlands that can hold it at all.</summary>
    public required double Occupancy { get; init; }

    /// <summary>Logit-scale level in the middle season on a calm evening of its best run.</summary>
    public required double Level { get; init; }

    /// <summary>Change of the level a season.</summary>
    public required double Slope { get; init; }

    /// <summary>How strongly it answers to what happens in a watershed: multiplies its local slope.</summary>
    public required double LocalAnswer { get; init; }

    /// <summary>What each run adds, early, middle, late; a run outside the window is not eligible.</summary>
    public required IReadOnlyList<double> RunEffects { get; init; }

    /// <summary>Standard deviation between wetlands of the level.</summary>
    public double WetlandSd { get; init; } = 0.8;

    /// <summary>Standard deviation between wetlands of the slope a season.</summary>
    public double WetlandSlopeSd { get; init; } = 0.025;

    /// <summary>Standard deviation between the stations of one wetland.</summary>
    public const double StationSd = 0.3;

    /// <summary>Standard deviation of what one season does to all wetlands at once: kept small.</summary>
    public const double SeasonSd = 0.06;

    /// <summary>The runs that lie in its window, 0 to 2.</summary>
    public IReadOnlyList<int> Runs =>
        field ??= [.. Enumerable.Range(0, DemoRun.All.Count).Where(run => Window.Contains(DemoRun.All[run].First.InYear(District.FirstSeason)))];

    public static IReadOnlyList<DemoSpecies> All { get; } =
    [
        new()
        {
            Id = "wood_frog", ScientificName = "Lithobates sylvaticus", CommonName = "Wood frog", SpanishName = "rana de bosque",
            Window = new(new(3, 20), new(5, 10)), Conservatism = 7,
            Occupancy = 0.80, Level = 0.3, Slope = -0.030, LocalAnswer = 1.2, RunEffects = [0, 0, 0],
        },
        new()
        {
            Id = "boreal_chorus_frog", ScientificName = "Pseudacris maculata", CommonName = "Boreal chorus frog", SpanishName = "rana coro boreal",
            Window = new(new(3, 20), new(6, 10)), Conservatism = 4,
            Occupancy = 0.85, Level = 0.5, Slope = 0.015, LocalAnswer = 0.8, RunEffects = [0, -0.6, 0],
        },
        new()
        {
            Id = "spring_peeper", ScientificName = "Pseudacris crucifer", CommonName = "Spring peeper", SpanishName = "ranita primaveral",
            Window = new(new(4, 1), new(6, 10)), Conservatism = 5,
            Occupancy = 0.95, Level = 3.0, Slope = 0.010, LocalAnswer = 0.6, RunEffects = [0, -0.4, 0],
        },
        new()
        {
            Id = "northern_leopard_frog", ScientificName = "Lithobates pipiens", CommonName = "Northern leopard frog", SpanishName = "rana leopardo norteña",
            Window = new(new(4, 1), new(6, 10)), Conservatism = 6,
            Occupancy = 0.75, Level = -0.4, Slope = -0.120, LocalAnswer = 0.5, RunEffects = [0, -0.3, 0],
        },
        new()
        {
            Id = "american_toad", ScientificName = "Anaxyrus americanus", CommonName = "American toad", SpanishName = "sapo americano",
            Window = new(new(4, 10), new(6, 15)), Conservatism = 2,
            Occupancy = 0.97, Level = 0.8, Slope = 0.003, LocalAnswer = 0.05, RunEffects = [-0.8, 0, 0],
            WetlandSd = 0.6, WetlandSlopeSd = 0.015,
        },
        new()
        {
            Id = "eastern_gray_treefrog", ScientificName = "Dryophytes versicolor", CommonName = "Eastern gray treefrog", SpanishName = "rana arborícola gris oriental",
            Window = new(new(5, 5), new(7, 20)), Conservatism = 4,
            Occupancy = 0.85, Level = 0.0, Slope = 0.085, LocalAnswer = 0.6, RunEffects = [0, 0, -0.3],
        },
        new()
        {
            Id = "copes_gray_treefrog", ScientificName = "Dryophytes chrysoscelis", CommonName = "Cope's gray treefrog", SpanishName = "rana arborícola gris de Cope",
            Window = new(new(5, 10), new(7, 15)), Conservatism = 5,
            Occupancy = 0.55, Level = -0.3, Slope = 0.010, LocalAnswer = 0.9, RunEffects = [0, 0, -0.4],
        },
        new()
        {
            Id = "green_frog", ScientificName = "Lithobates clamitans", CommonName = "Green frog", SpanishName = "rana verde",
            Window = new(new(5, 15), new(8, 10)), Conservatism = 3,
            Occupancy = 0.90, Level = 0.2, Slope = 0.020, LocalAnswer = 0.5, RunEffects = [0, -0.7, 0],
        },
        new()
        {
            Id = "blanchards_cricket_frog", ScientificName = "Acris blanchardi", CommonName = "Blanchard's cricket frog", SpanishName = "rana grillo de Blanchard",
            Window = new(new(5, 15), new(7, 31)), Conservatism = 8, Protected = true,
            Occupancy = 0.09, Level = -0.2, Slope = -0.040, LocalAnswer = 1.0, RunEffects = [0, -0.3, 0],
        },
        new()
        {
            Id = "mink_frog", ScientificName = "Lithobates septentrionalis", CommonName = "Mink frog", SpanishName = "rana visón",
            Window = new(new(5, 15), new(8, 5)), Conservatism = 9,
            Occupancy = 0.06, Level = -2.2, Slope = -0.010, LocalAnswer = 1.0, RunEffects = [0, -0.8, 0],
        },
    ];
}
