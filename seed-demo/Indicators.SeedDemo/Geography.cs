namespace Indicators.SeedDemo;

/// <summary>A corner of a border or a place, km east and north of the district's origin.</summary>
public readonly record struct Km(double East, double North)
{
    private const double KmPerDegree = 111.2;

    /// <summary>Degrees north, five decimals (about a metre).</summary>
    public double Latitude => Math.Round(District.OriginLatitude + North / KmPerDegree, 5);

    /// <summary>Degrees east.</summary>
    public double Longitude => Math.Round(District.OriginLongitude + East / (KmPerDegree * 0.7266), 5);

    public double DistanceTo(Km other) => Math.Sqrt(Square(East - other.East) + Square(North - other.North));

    private static double Square(double x) => x * x;
}

/// <summary>
/// The district's wobbly borders. A border between two corners is drawn once and used by the watersheds on both sides, so
/// that they share it to the last digit; a larger watershed is what is left when the borders inside it are taken away.
/// </summary>
public sealed class Geography
{
    private const int Halvings = 4;
    private const double Wobble = 0.11;
    private readonly Dictionary<(char, char), Km[]> _borders = [];

    public Geography(ulong seed)
    {
        foreach (var (a, b) in District.Smallest.SelectMany(place => Sides(place.Ring)))
        {
            var key = Ordered(a, b);
            if (!_borders.ContainsKey(key))
                _borders[key] = Wobbled(Corner(key.Item1), Corner(key.Item2), DemoRandom.For(seed, Draw.Border, key.Item1, key.Item2));
        }
    }

    /// <summary>The closed ring around a watershed of any level, counter-clockwise, its first point repeated at the end.</summary>
    public IReadOnlyList<Km> Ring(string code)
    {
        var sides = District.Smallest
            .Where(place => place.Code.StartsWith(code, StringComparison.Ordinal))
            .SelectMany(place => Sides(place.Ring))
            .ToList();
        var next = sides.Where(side => !sides.Contains((side.B, side.A))).ToDictionary(side => side.A, side => side.B);
        char start = next.Keys.Min();
        var ring = new List<Km>();
        char at = start;
        do
        {
            ring.AddRange(Along(at, next[at]).SkipLast(1));
            at = next[at];
        }
        while (at != start);
        ring.Add(ring[0]);
        return ring;
    }

    /// <summary>Whether a ring goes around a place (even-odd rule).</summary>
    public static bool Holds(IReadOnlyList<Km> ring, Km place)
    {
        bool inside = false;
        for (int i = 1; i < ring.Count; i++)
        {
            var (a, b) = (ring[i - 1], ring[i]);
            if (a.North > place.North != b.North > place.North
                && place.East < a.East + (b.East - a.East) * (place.North - a.North) / (b.North - a.North))
                inside = !inside;
        }

        return inside;
    }

    private static IEnumerable<(char A, char B)> Sides(string ring) =>
        ring.Select((corner, i) => (corner, ring[(i + 1) % ring.Length]));

    private IEnumerable<Km> Along(char a, char b)
    {
        var border = _borders[Ordered(a, b)];
        return a < b ? border : border.Reverse();
    }

    private static (char, char) Ordered(char a, char b) => a < b ? (a, b) : (b, a);

    private static Km Corner(char name) => new(District.Corners[name].East, District.Corners[name].North);

    /// <summary>Halves every piece and moves its middle sideways by a share of its length.</summary>
    private static Km[] Wobbled(Km a, Km b, DemoRandom random)
    {
        var points = new List<Km> { a, b };
        for (int halving = 0; halving < Halvings; halving++)
        {
            for (int i = points.Count - 1; i > 0; i--)
            {
                var (p, q) = (points[i - 1], points[i]);
                double aside = Wobble * Math.Clamp(random.Normal(), -1.6, 1.6);
                points.Insert(i, new Km(
                    (p.East + q.East) / 2 - aside * (q.North - p.North),
                    (p.North + q.North) / 2 + aside * (q.East - p.East)));
            }
        }

        return [.. points];
    }
}
