namespace Indicators.SeedDemo;

/// <summary>One of the district's smallest watersheds.</summary>
/// <param name="Code">Its twelve digits.</param>
/// <param name="Name">What its people call it.</param>
/// <param name="Ring">The corners around it; every pair of neighbours is one border.</param>
/// <param name="Wetlands">How many wetlands are listened to.</param>
/// <param name="SecondStations">How many of them have a second station.</param>
/// <param name="LocalSlope">What the place adds to every species' slope, times the species' own answer to it.</param>
public sealed record Subwatershed(string Code, string Name, string Ring, int Wetlands, int SecondStations, double LocalSlope);

/// <summary>The invented lake district: its watersheds, its corners and its names.</summary>
/// <remarks>The place lies in the open water of a great lake, so that no real pond is pointed at.</remarks>
public static class District
{
    public const int FirstSeason = 2012;
    public const int LastSeason = 2026;
    public const int Seasons = LastSeason - FirstSeason + 1;

    /// <summary>The eight-digit watershed: the whole district.</summary>
    public const string Code = "99010203";

    /// <summary>South-west corner in degrees; corners below are in km from here.</summary>
    public const double OriginLatitude = 43.20;
    public const double OriginLongitude = -87.40;

    public static IReadOnlyList<(string Code, string Name)> Larger { get; } =
    [
        ("99", "Farwater"),
        ("9901", "Upper Farwater"),
        ("990102", "Ostrel and Venn"),
        (Code, "Ostrel Lakes"),
        ("9901020301", "Marl Creek"),
        ("9901020302", "Venn River"),
    ];

    public static IReadOnlyList<Subwatershed> Smallest { get; } =
    [
        new("990102030101", "Lower Marl Creek", "ABRJ", 11, 2, 0.000),
        new("990102030102", "Cinder Slough", "BCPR", 9, 2, -0.180),
        new("990102030103", "Heron Flats", "RPQT", 4, 0, 0.000),
        new("990102030104", "Upper Marl Creek", "JRTQHI", 10, 2, 0.000),
        new("990102030201", "Venn Mouth", "CDESP", 9, 2, -0.060),
        new("990102030202", "Long Ostrel Lake", "SEFG", 8, 2, 0.000),
        new("990102030203", "Venn Headwaters", "PSGHQ", 10, 2, 0.030),
    ];

    /// <summary>Corners in km east and north of the origin.</summary>
    public static IReadOnlyDictionary<char, (double East, double North)> Corners { get; } = new Dictionary<char, (double, double)>
    {
        ['A'] = (4, 3), ['B'] = (16, 0), ['C'] = (29, 2), ['D'] = (43, 5), ['E'] = (47, 17),
        ['F'] = (44, 30), ['G'] = (33, 37), ['H'] = (21, 35), ['I'] = (8, 33), ['J'] = (1, 20),
        ['P'] = (25, 13), ['Q'] = (22, 25), ['R'] = (12, 14), ['S'] = (36, 18), ['T'] = (13, 23),
    };

    public static IReadOnlyList<string> WetlandNames { get; } =
    [
        "Heron Slough", "Marl Pond", "Teal Marsh", "Sedge Hollow", "Kettle Pond", "Alder Bottom", "Otter Slough", "Tamarack Swamp",
        "Willow Marsh", "Mallard Pond", "Cattail Corner", "Snipe Meadow", "Loon Backwater", "Birch Pothole", "Crane Marsh", "Mossy Pond",
        "Bulrush Bay", "Ash Swamp", "Rail Marsh", "Dragonfly Pond", "Beaver Flowage", "Sweetgale Bog", "Killdeer Pond", "Reed Slough",
        "Cinder Pond", "Coot Marsh", "Bittern Hollow", "Gravel Pit Pond", "Pike Slough", "Sora Marsh", "Cranberry Bog", "Turtle Pond",
        "Lily Backwater", "Dogwood Swale", "Harrier Marsh", "Spruce Bog", "Mink Slough", "Swallow Pond", "Wigeon Marsh", "Iris Meadow",
        "Vole Meadow", "Grebe Pond", "Maple Swamp", "Stonefly Spring", "Rushy Pond", "Fox Swale", "Pintail Slough", "Quaking Bog",
        "Wren Marsh", "Muskrat Pond", "Hemlock Pool", "Ferry Slough", "Bobolink Meadow", "Duckweed Pond", "Plover Flats", "Larch Swamp",
        "Orchard Pond", "Shingle Marsh", "Osprey Backwater", "Mill Pond", "Whistling Marsh",
    ];

    /// <summary>Wetland classes in the words of FGDC-STD-004-2013.</summary>
    public static IReadOnlyList<string> WetlandClasses { get; } =
    [
        "Palustrine Emergent Wetland", "Palustrine Scrub-Shrub Wetland", "Palustrine Forested Wetland",
        "Palustrine Aquatic Bed", "Palustrine Unconsolidated Bottom", "Lacustrine Littoral Emergent Wetland",
    ];

    /// <summary>Invented people.</summary>
    public static IReadOnlyList<string> Observers { get; } =
    [
        "Ada Thornquist", "Bram Okafield", "Celia Voss-Hart", "Dov Merriwell", "Edda Lindqvale", "Farid Stonebrook", "Greta Ambley",
        "Hollis Pennarth", "Ines Calloway-Roe", "Jory Blackmere", "Kaisa Tolvander", "Lowell Fitzarden", "Mina Dunmarrow", "Nils Everhold",
        "Odile Marchbank", "Pavel Greywater", "Quill Hathersby", "Rosa Temblador", "Signe Ashcombe", "Tobin Larkspur", "Una Fairweald",
        "Viggo Marshdale", "Willa Brandreth", "Xenia Holloway", "Yusuf Kettleby", "Zora Whinfield", "Anselm Rooke", "Birdie Salterton",
        "Cormac Windle", "Delphine Usk", "Emeka Larchfield", "Freya Oldcastle",
    ];
}
