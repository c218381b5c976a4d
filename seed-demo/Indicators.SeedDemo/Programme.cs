namespace Indicators.SeedDemo;

/// <summary>A wetland of the demo.</summary>
/// <param name="Number">From 1, across the district.</param>
public sealed record DemoWetland(int Number, string Name, string Class, Subwatershed Watershed, Km Place)
{
    public string Id => FormattableString.Invariant($"W{Number:00}");
}

/// <summary>A station of the demo and the seasons it is kept.</summary>
/// <param name="Number">From 1, across the district.</param>
public sealed record DemoStation(int Number, string Name, DemoWetland Wetland, Km Place, int FirstSeason, int LastSeason)
{
    public string Id => FormattableString.Invariant($"OL{Number:00}");
}

/// <summary>Where people listen: the district's wetlands and stations, drawn from a seed.</summary>
public sealed class Programme
{
    private const double FromBorderKm = 0.9;
    private const double BetweenWetlandsKm = 1.5;

    public Programme(ulong seed)
    {
        Seed = seed;
        Geography = new Geography(seed);
        foreach (var watershed in District.Smallest)
        {
            var ring = Geography.Ring(watershed.Code);
            for (int i = 0; i < watershed.Wetlands; i++)
            {
                var wetland = Wetland(_wetlands.Count + 1, watershed, ring);
                _wetlands.Add(wetland);
                AddStation(wetland, "landing", wetland.Place);
                if (i < watershed.SecondStations)
                    AddStation(wetland, "far shore", new Km(wetland.Place.East + 0.35, wetland.Place.North + 0.25));
            }
        }
    }

    private readonly List<DemoWetland> _wetlands = [];
    private readonly List<DemoStation> _stations = [];

    public ulong Seed { get; }
    public Geography Geography { get; }
    public IReadOnlyList<DemoWetland> Wetlands => _wetlands;
    public IReadOnlyList<DemoStation> Stations => _stations;

    private DemoWetland Wetland(int number, Subwatershed watershed, IReadOnlyList<Km> ring)
    {
        var random = DemoRandom.For(Seed, Draw.Place, number);
        string kind = District.WetlandClasses[random.Whole(0, District.WetlandClasses.Count - 1)];
        Km place;
        do
            place = new Km(random.Between(0, 50), random.Between(-3, 42));
        while (!Geography.Holds(ring, place)
            || ring.Any(corner => corner.DistanceTo(place) < FromBorderKm)
            || _wetlands.Any(other => other.Place.DistanceTo(place) < BetweenWetlandsKm));
        return new DemoWetland(number, District.WetlandNames[number - 1], kind, watershed, place);
    }

    private void AddStation(DemoWetland wetland, string where, Km place)
    {
        int number = _stations.Count + 1;
        var random = DemoRandom.For(Seed, Draw.Years, number);
        int first = random.Chance(0.18) ? random.Whole(2013, 2018) : District.FirstSeason;
        int last = random.Chance(0.15) ? random.Whole(2019, 2025) : District.LastSeason;
        _stations.Add(new DemoStation(number, $"{wetland.Name}, {where}", wetland, place, first, last));
    }
}
