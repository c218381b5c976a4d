using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using NodaTime;

namespace Indicators.Web.Tests.Invented;

/// <summary>An invented edition for tests of pages: every kind of result a page can meet, made by hand, not by the engine.</summary>
internal static class InventedEdition
{
    public const int First = 2012, Last = 2026;

    public static readonly WatershedCode Whole = Code("99010001");
    public static readonly WatershedCode Middle = Code("9901000101");
    public static readonly WatershedCode Marl = Code("990100010101");
    public static readonly WatershedCode Otter = Code("990100010102");
    public static readonly WatershedCode Nameless = Code("990100010201");

    public static readonly Id<Species> Peeper = Key("PSCR"), Wood = Key("RASY"), Chorus = Key("PSMA"), Leopard = Key("RAPI"), Rare = Key("ACBL"), Unheard = Key("RACL");

    public static InventedReader Reader() => InventedDepth.AddedTo(new()
    {
        Header = Header(),
        EarlierHeaders = [Earlier()],
        AreaList = AreaList(),
        ShapeList = [Box(Marl, -90.4, 45.1), Box(Otter, -90.1, 45.1), Box(Whole, -90.4, 44.9)],
        SpeciesList =
        [
            Frog(Rare, "Acris blanchardi", "Blanchard's cricket frog", 8, isProtected: true),
            Frog(Chorus, "Pseudacris maculata", "boreal chorus frog", 4) with
            {
                OtherNames = OtherNames.Of([new("es", "rana coro boreal de las llanuras")]),
            },
            Frog(Peeper, "Pseudacris crucifer", "spring peeper", 5),
            Frog(Unheard, "Lithobates clamitans", "green frog", 3),
            Frog(Leopard, "Lithobates pipiens", "northern leopard frog", 4),
            Frog(Wood, "Lithobates sylvaticus", "wood frog", 6),
        ],
        TrendList = [.. AreaList().SelectMany(area => TrendsOf(area.Code)).OrderBy(trend => trend.Area).ThenBy(trend => trend.Species)],
        EvidenceList = [.. AreaList().SelectMany(area => TrendsOf(area.Code)).OrderBy(trend => trend.Area).ThenBy(trend => trend.Species).Select(EvidenceOf)],
        IndexList = [.. AreaList().SelectMany(area => IndicesOf(area.Code))],
        GroupList = [.. AreaList().Where(area => area.Code != Nameless).SelectMany(area => Seasons.Select(season => new GroupIndexPoint
        {
            Area = area.Code, Season = season, Index = 100 - 1.4 * (season - First), Lower = 90 - 1.6 * (season - First), Upper = 112 - 1.1 * (season - First), Species = 4,
        }))],
        ConditionList = [.. AreaList().SelectMany(area => Seasons.Select(season => ConditionOf(area.Code, season)))],
        CallingChangeList = InventedChanges.Calling(),
        ScoreChangeList = InventedChanges.Scores(),
        GapList = [.. AreaList().SelectMany(area => Seasons.Select(season => new SeasonGap(area.Code, season, 14, season % 3, 4, season % 2, 12, 3)))],
        SilenceTallyList = [new SilenceTally(Otter, SilenceKind.GoneQuiet, 40, 5, 1.3), new SilenceTally(Otter, SilenceKind.NewlyHeard, 40, 5, 1.3), new SilenceTally(Marl, SilenceKind.GoneQuiet, 40, 1, 1.2)],
        EffortList = [.. AreaList().SelectMany(area => Seasons.Select(season => new SeasonEffort(area.Code, season, 12, 10, 36)))],
    });

    private static readonly IReadOnlyList<int> Seasons = [.. Enumerable.Range(First, Last - First + 1)];

    private static EditionHeader Header() => new(
        3, EditionState.Published, Instant.FromUtc(2026, 9, 1, 12, 0), Instant.FromUtc(2026, 9, 2, 12, 0),
        new EditionManifest
        {
            SchemaVersion = 1, InputsSha256 = new string('a', 64), Settings = new ProgrammeSettings { Name = "Listening at Ninety-Nine Lakes" },
            Run = new RunOptions(), EngineVersion = "0.1.0", Runtime = "test", Processor = "test",
        },
        new EditionCounts(2950, 72, 60, 6, 8, First, Last),
        [new EditionWarning(EditionWarningKind.SeriesKeptBack, 2), new EditionWarning(EditionWarningKind.SurveysOutsideEveryWindow, 1)]);

    private static EditionHeader Earlier() => Header() with
    {
        Number = 2, State = EditionState.Earlier, CreatedAt = Instant.FromUtc(2025, 9, 1, 12, 0), PublishedAt = Instant.FromUtc(2025, 9, 2, 12, 0),
        Counts = new EditionCounts(2740, 72, 60, 6, 8, First, Last - 1), Warnings = [],
    };

    // Codes of 2, 4, 6 digits hold just the 8-digit area and repeat it.
    private static IReadOnlyList<Area> AreaList() =>
    [
        OneArea("99", null, 72), OneArea("9901", null, 72), OneArea("990100", null, 72), OneArea("99010001", "Ninety-Nine Lakes", 72),
        OneArea("9901000101", "Upper Lakes", 48), OneArea("990100010101", "Marl Creek", 24), OneArea("990100010102", "Otter Lake", 24),
        OneArea("9901000102", null, 24), OneArea("990100010201", null, 24),
    ];

    private static Area OneArea(string code, string? name, int stations) => new()
    {
        Code = Code(code), Name = name, Stations = stations, Wetlands = stations - 4, Surveys = stations * 41, FirstSeason = First, LastSeason = Last,
        Expected = [Chorus, Peeper, Leopard, Wood], ExpectedIsGiven = true,
    };

    private static IEnumerable<Trend> TrendsOf(WatershedCode area)
    {
        var basis = new Trend
        {
            Area = area, Species = Wood, Status = TrendStatus.Estimated, FirstSeason = First, LastSeason = Last, Interval = IntervalKind.ObservedChange,
            Clusters = 11, InformativeClusters = 10, Stations = 12, Surveys = 410, SilentStations = 4, CeilingShare = 0.02, Resamples = 2000,
        };
        yield return basis with { PercentPerSeason = -4.1, Lower = -5.6, Upper = -2.8, LowerUnderlying = -6.2, UpperUnderlying = -2.3, SeasonSd = 0.1, Direction = Direction.Down, ProbabilityOfDecline = 1 };
        yield return basis with { Species = Peeper, ProbabilityOfDecline = 0.36, PercentPerSeason = 0.3, Lower = -0.9, Upper = 1.1, LowerUnderlying = -1.2, UpperUnderlying = 1.6, SeasonSd = 0.08, Direction = Direction.Steady, CeilingShare = 0.31 };
        yield return basis with { Species = Chorus, PercentPerSeason = 3.2, Lower = 1.1, Upper = 5.2, LowerUnderlying = 0.8, UpperUnderlying = 5.9, SeasonSd = 0, Direction = Direction.Up };
        yield return area == Nameless
            ? basis with { Species = Leopard, Interval = IntervalKind.FewClusters, Clusters = 2, InformativeClusters = 2, Stations = 2, Surveys = 60 }
            : basis with { Species = Leopard, PercentPerSeason = -2.5, Lower = null, Upper = 6 };
        yield return basis with
        {
            Species = Unheard, Status = TrendStatus.NeverHeard, Interval = IntervalKind.NoEstimate, FirstSeason = null, LastSeason = null,
            Clusters = 0, InformativeClusters = 0, Stations = 0, Surveys = 0, SilentStations = 16, CeilingShare = null,
        };
        if (area.Digits <= 8)
            yield return basis with { Species = Rare, Interval = IntervalKind.LostResamples, Clusters = 6, InformativeClusters = 6, Stations = 6, Surveys = 130 };
    }

    private static SeriesEvidence EvidenceOf(Trend trend) => EvidenceRule.Judge(
        new SeriesEvidence
        {
            Area = trend.Area, Species = trend.Species, Grade = Evidence.Thin, Reasons = EvidenceReason.NoInterval, Seasons = trend.Status == TrendStatus.NeverHeard ? 0 : 15,
            LeaveOneOutChange = 0.6, SignHolds = true, Dispersion = 1.4, DispersionDf = 161, ZeroCellShare = 0.35, CeilingShare = trend.CeilingShare,
            Observers = 9, NewObserverShare = trend.Species == Chorus ? 0.7 : 0.1, OutsideProtocolShare = 0.04,
        },
        trend,
        new ProgrammeSettings());

    private static IEnumerable<IndexPoint> IndicesOf(WatershedCode area)
    {
        foreach (var trend in TrendsOf(area).Where(trend => trend.Status == TrendStatus.Estimated).OrderBy(trend => trend.Species))
        {
            double yearly = 1 + (trend.PercentPerSeason ?? 0) / 100;
            // The leopard frog was not listened for in 2020, and was silent in 2019.
            foreach (int season in Seasons.Where(season => trend.Species != Leopard || season != 2020))
            {
                bool silent = trend.Species == Leopard && season == 2019;
                bool noBaseline = trend.Species == Rare;
                double index = silent ? 0 : 100 * Math.Pow(yearly, season - First - 1) * (1 + 0.08 * Math.Sin(season * 1.7));
                bool noRange = trend.Interval == IntervalKind.FewClusters;
                yield return new IndexPoint
                {
                    Area = area, Species = trend.Species, Season = season, Status = noBaseline ? IndexStatus.SilentBaseline : IndexStatus.Estimated,
                    Index = noBaseline ? null : index, Lower = noBaseline || noRange ? null : 0.78 * index, Upper = noBaseline || noRange || silent ? null : season == 2024 ? 900 : 1.25 * index,
                    InBaseline = season < First + 3, MeanCallLevel = index / 90, Stations = 12, Surveys = 30,
                };
            }
        }
    }

    private static Condition ConditionOf(WatershedCode area, int season)
    {
        if (season < First + 2)
            return new Condition { Area = area, Season = season, Lacks = ScoreLack.EarlySeason, SeasonsInWindow = season - First + 1, Wetlands = 20, Surveys = 60, Expected = 4, Heard = 3 };
        if (area == Nameless)
            return new Condition { Area = area, Season = season, Lacks = ScoreLack.FewWetlands | ScoreLack.NoSlopes, SeasonsInWindow = 3, Wetlands = 3, Surveys = 60, Expected = 4, Heard = 3 };
        ConditionLine[] lines =
        [
            new(ScorePart.Presence, Leopard, -7.5, -0.011), new(ScorePart.Sensitivity, Leopard, -4.21, 0.02),
            new(ScorePart.Calling, Wood, -9.333, -1.04), new(ScorePart.Calling, Peeper, -1.777, 0.33), new(ScorePart.Calling, Chorus, 1.111, 0.14), new(ScorePart.Calling, null, -0.333, 0),
            new(ScorePart.Direction, Wood, -4.999, -0.15), new(ScorePart.Direction, Peeper, -1.4, 0.01), new(ScorePart.Direction, Rare, -3.33, 0),
        ];
        double score = 100 + lines.Sum(line => line.Points);
        return new Condition
        {
            Area = area, Season = season, Lacks = ScoreLack.None, Score = score, Lower = score - 7.4, Upper = score + 6.9,
            Class = ConditionClass.Fair, ProbabilityGood = 0.24, ProbabilityFair = 0.76, ProbabilityPoor = 0, Expected = 5, Heard = 4,
            PresencePart = 75, SensitivityPart = 79, CallingPart = 66, DirectionPart = 51, SeasonsInWindow = 3, Wetlands = 20, Surveys = 108, Lines = lines,
        };
    }

    private static AreaShape Box(WatershedCode code, double west, double south) => new(code, FormattableString.Invariant(
        $$"""{"type":"Polygon","coordinates":[[[{{west}},{{south}}],[{{west + 0.14}},{{south - 0.03}}],[{{west + 0.3}},{{south}}],[{{west + 0.27}},{{south + 0.22}}],[{{west}},{{south + 0.2}}],[{{west}},{{south}}]]]}"""));

    private static Species Frog(Id<Species> id, string scientific, string common, double conservatism, bool isProtected = false) => new()
    {
        Id = id, ScientificName = scientific, CommonName = common, Protected = isProtected,
        Window = new CallingWindow(CallingWindow.ParseDay("04-01").Value, CallingWindow.ParseDay("06-15").Value),
        Conservatism = Conservatism.Parse(conservatism.ToString(System.Globalization.CultureInfo.InvariantCulture)).Value,
    };

    private static WatershedCode Code(string digits) => WatershedCode.Parse(digits).Value;

    private static Id<Species> Key(string id) => Id<Species>.Parse(id).Value;
}
