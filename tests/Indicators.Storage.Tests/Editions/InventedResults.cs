using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Pooling;
using Indicators.Storage.Editions;
using NodaTime;
using Xunit;

namespace Indicators.Storage.Tests.Editions;

/// <summary>Results with a different value in every field, so that two mixed-up columns show.</summary>
internal static partial class InventedResults
{
    internal static readonly Instant Made = Instant.FromUtc(2026, 5, 1, 8, 0);

    internal static EditionManifest Manifest(int schemaVersion = EditionLayout.Version) => new()
    {
        SchemaVersion = schemaVersion,
        InputsSha256 = new string('a', 64),
        Settings = new ProgrammeSettings { Name = "Invented listeners" },
        Run = new RunOptions { Seed = ulong.MaxValue, Resamples = 500, ThroughSeason = 2024 },
        EngineVersion = "0.1.0",
        Runtime = ".NET 10",
        Processor = "x64",
    };

    internal static AreaResult Area(string code)
    {
        var area = Invented.Code(code);
        return InventedChanges.AddedTo(InventedOccupancy.AddedTo(new AreaResult
        {
            Area = new Area
            {
                Code = area,
                Name = $"Watershed {code}",
                Stations = 11,
                Wetlands = 12,
                Surveys = 13,
                FirstSeason = 2012,
                LastSeason = 2026,
                Expected = [Invented.Frog("marsh"), Invented.Frog("wood")],
                ExpectedIsGiven = true,
            },
            Effort = [new SeasonEffort(area, 2012, 1, 2, 3), new SeasonEffort(area, 2013, 4, 5, 6)],
            Trends =
            [
                new Trend { Area = area, Species = Invented.Frog("marsh"), Status = TrendStatus.NeverHeard, Interval = IntervalKind.NoEstimate },
                new Trend
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Status = TrendStatus.Estimated,
                    FirstSeason = 2012,
                    LastSeason = 2025,
                    PercentPerSeason = -1.0 / 3,
                    Lower = -2.0 / 3,
                    Upper = double.Epsilon,
                    Interval = IntervalKind.ObservedChangeStations,
                    Direction = Direction.Down,
                    Slowly = true,
                    ProbabilityOfDecline = 0.1,
                    LowerMonteCarloError = 0.2,
                    UpperMonteCarloError = 0.3,
                    BcaLower = -0.4,
                    BcaUpper = 0.5,
                    JackknifeLower = -0.6,
                    JackknifeUpper = 0.7,
                    EqualStationsPercent = -1.25,
                    LowerUnderlying = -7.5,
                    UpperUnderlying = 1.0 / 3,
                    SeasonSd = 0.11,
                    Clusters = 21,
                    InformativeClusters = 22,
                    Stations = 23,
                    Surveys = 24,
                    SilentStations = 25,
                    CeilingShare = 0.8,
                    Resamples = 26,
                },
            ],
            Indices =
            [
                new IndexPoint { Area = area, Species = Invented.Frog("wood"), Season = 2012, Status = IndexStatus.NotLinked },
                new IndexPoint
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Season = 2013,
                    Status = IndexStatus.Estimated,
                    Index = 100.1,
                    Lower = 90.2,
                    Upper = 110.3,
                    InBaseline = true,
                    MeanCallLevel = 1.4,
                    Stations = 31,
                    Surveys = 32,
                },
            ],
            Group =
            [
                new GroupIndexPoint { Area = area, Season = 2012 },
                new GroupIndexPoint { Area = area, Season = 2013, Index = 99.5, Lower = 88.6, Upper = 111.7, Species = 8 },
                new GroupIndexPoint { Area = area, Season = 2012, Index = 1.5, Species = 9, Group = SpeciesGroup.Summer },
            ],
            GroupTrends =
            [
                new GroupTrend { Area = area, Group = SpeciesGroup.EarlySeason, Species = 1 },
                new GroupTrend
                {
                    Area = area,
                    Group = SpeciesGroup.HighConservatism,
                    Species = 51,
                    PercentPerSeason = -1.1,
                    LowerUnderlying = -2.2,
                    UpperUnderlying = 3.3,
                    Direction = Direction.Steady,
                    ProbabilityOfDecline = 0.52,
                    TwoWayLower = -4.4,
                    TwoWayUpper = 5.5,
                },
            ],
            PoolingParts =
            [
                new SlopeForPooling
                {
                    Area = area,
                    Species = Invented.Frog("marsh"),
                    Slope = 0.5,
                    Information = 61,
                    Clusters = 4,
                    ResponseByLag = [],
                    CarryOverEvidence = [],
                    Seasons = [],
                },
                new SlopeForPooling
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Slope = -1.0 / 3,
                    Information = 62,
                    OwnVariance = double.Epsilon,
                    Clusters = 63,
                    ResidualVariance = 0.64,
                    ResponseByLag = [3.6, -1.0 / 3, double.Epsilon],
                    CarryOverEvidence = [0.7, -0.1],
                    Seasons = [new SeasonForPooling(2012, 1.0 / 7, -double.Epsilon), new SeasonForPooling(2014, -0.2, 0.3)],
                },
            ],
            Evidence = EvidenceOf(area),
            Variants = VariantsOf(area),
            Effects = EffectsOf(area),
            Smooth =
            [
                new SmoothPoint { Area = area, Species = Invented.Frog("wood"), Season = 2012, Value = 99.75 },
                new SmoothPoint
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Season = 2013,
                    Value = 101.25,
                    Lower = 88.5,
                    Upper = 1000.0 / 9,
                    Bend = SmoothBend.Downward,
                    FallShare = 0.15,
                    RiseShare = 0.25,
                },
            ],
            Changes =
            [
                new SmoothChange
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Kind = SmoothChangeKind.FastestFall,
                    Season = 2014.25,
                    SeasonLower = 2013.1,
                    SeasonUpper = 2015.9,
                    PercentPerSeason = -8.5,
                    Lower = -11.5,
                    Upper = -3.25,
                    Freedom = 2.125,
                },
                new SmoothChange
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Kind = SmoothChangeKind.FastestRise,
                    PercentPerSeason = 1,
                    Lower = 0.5,
                    Upper = 2,
                    Freedom = 1,
                },
            ],
            Occupancy =
            [
                new OccupancyPoint(area, Invented.Frog("marsh"), 2012, 61, null, null, 0.62, null, null, OccupancyBasis.ManySeasonsBoundary),
                new OccupancyPoint(area, Invented.Frog("wood"), 2013, 63, 64, 1.0 / 3, 0.65, 0.66, 0.67, OccupancyBasis.ManySeasons),
            ],
            OccupancyRates =
            [
                new OccupancyRates { Area = area, Species = Invented.Frog("marsh"), Basis = OccupancyBasis.FewWetlands },
                new OccupancyRates
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Basis = OccupancyBasis.ManySeasons,
                    Wetlands = 71,
                    WetlandsHeard = 72,
                    Visits = 73,
                    Colonisation = 0.74,
                    ColonisationLower = 0.75,
                    ColonisationUpper = 0.76,
                    Extinction = 0.77,
                    ExtinctionLower = 0.78,
                    ExtinctionUpper = 0.79,
                    VisitsForAbsence = 80,
                },
            ],
            Detection =
            [
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Early, 81, null, 0, null, null, null, null, null),
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Middle, 82, 83, 0.84, 0.85, 0.86, 0.87, 88, 89),
                new DetectionRate(area, Invented.Frog("wood"), WindowPart.Late, 90, 91, 0.92, null, null, null, 1, null),
            ],
            Silences =
            [
                new StationSilence
                {
                    Area = area,
                    Kind = SilenceKind.GoneQuiet,
                    Rank = 1,
                    Station = Invented.Station("00T1"),
                    Species = Invented.Frog("wood"),
                    HeardSeason = 2014,
                    SilentVisits = 101,
                    SilentSeasons = 102,
                    Visits = 103,
                    VisitsHeard = 104,
                    Chance = 0.0105,
                    ChancePresent = 0.106,
                },
                new StationSilence
                {
                    Area = area,
                    Kind = SilenceKind.NewlyHeard,
                    Rank = 1,
                    Station = Invented.Station("00T2"),
                    Species = Invented.Frog("wood"),
                    HeardSeason = 2015,
                    SilentVisits = 111,
                    SilentSeasons = 112,
                    Visits = 113,
                    VisitsHeard = 114,
                    Chance = 0.0115,
                },
            ],
            SilenceTallies = [new SilenceTally(area, SilenceKind.GoneQuiet, 121, 122, 1.23), new SilenceTally(area, SilenceKind.NewlyHeard, 124, 125, 1.26)],
            Conditions =
            [
                new Condition { Area = area, Season = 2012, Lacks = ScoreLack.EarlySeason | ScoreLack.FewWetlands },
                new Condition
                {
                    Area = area,
                    Season = 2014,
                    Lacks = ScoreLack.None,
                    Score = 71.1,
                    Lower = 62.2,
                    Upper = 83.3,
                    Class = ConditionClass.Fair,
                    ProbabilityGood = 0.41,
                    ProbabilityFair = 0.42,
                    ProbabilityPoor = 0.17,
                    PresencePart = 54.4,
                    SensitivityPart = 55.5,
                    CallingPart = 56.6,
                    DirectionPart = 57.7,
                    Expected = 41,
                    Heard = 42,
                    SeasonsInWindow = 43,
                    Wetlands = 44,
                    Surveys = 45,
                    ConservatismIndex = 9.9,
                    PresenceRawPart = 52.2,
                    SensitivityRawPart = 53.3,
                    Lines =
                    [
                        new ConditionLine(ScorePart.Presence, Invented.Frog("wood"), -10.5, 1.5),
                        new ConditionLine(ScorePart.Calling, null, -18.4, null),
                    ],
                },
            ],
        }));
    }

    internal static readonly PublishedSurvey Heard = new(
        Invented.Survey("s-1"),
        Invented.Station("00T1"),
        Invented.Pond("W1"),
        Invented.Code("9901010101"),
        new LocalDate(2020, 4, 20),
        new LocalTime(21, 30, 15),
        5.5,
        12.25,
        2,
        "1",
        "loud",
        [new Call(Invented.Frog("wood"), CallLevel.Of(1).Value)]);

    internal static readonly PublishedSurvey Silent = Heard with
    {
        Id = Invented.Survey("s-0"),
        Date = new LocalDate(2021, 4, 20),
        StartTime = null,
        Minutes = null,
        AirTempC = null,
        WindBeaufort = null,
        SkyCode = null,
        Noise = null,
        Calls = [],
    };

    internal static EditionContent Content() => new(
        new EditionCounts(1, 2, 3, 4, 5, 2012, 2026),
        [new EditionWarning(EditionWarningKind.SeriesNearCeiling, 7), new EditionWarning(EditionWarningKind.StationsNeverSurveyed, 6)],
        [Invented.Species("wood"), Invented.Species("marsh", isProtected: true)],
        [new AreaShape(Invented.Code("9901"), """{"type":"Polygon","coordinates":[]}""")],
        new ProgrammeResult
        {
            Pooled = [Pooled(null, 6), Pooled(Invented.Code("99"), 4)],
            Shrunken =
            [
                Shrunken(null) with { RawLower = null, RawUpper = null },
                Shrunken(Invented.Code("99")),
            ],
            RollUps =
            [
                new RollUp { Area = Invented.Code("9901"), Species = Invented.Frog("wood"), Season = 2012, DirectIndex = 101.5, Areas = 1, StationShare = 0.25 },
                new RollUp { Area = Invented.Code("9901"), Species = Invented.Frog("wood"), Season = 2013, DirectIndex = 102.5, RolledUpIndex = 99.25, Areas = 2, StationShare = 0.75 },
            ],
        })
    {
        Places = InventedPlaces.All,
    };

    private static PooledTrend Pooled(WatershedCode? parent, int level) => new()
    {
        Parent = parent,
        Level = level,
        Species = Invented.Frog("wood"),
        Method = BetweenVarianceMethod.PauleMandel,
        Areas = 7,
        PercentPerSeason = -1.0 / 3,
        Lower = -2.5,
        Upper = 1.5,
        PredictionLower = -3.5,
        PredictionUpper = 2.75,
        Tau = 0.011,
        TauLower = 0.012,
        TauUpper = 0.013,
        ISquared = 0.44,
        Q = 8.5,
        SharedSeasonSd = 0.16,
        SeasonCorrelation = 0.17,
    };

    private static ShrunkenTrend Shrunken(WatershedCode? parent) => new()
    {
        Parent = parent,
        Area = Invented.Code("9901"),
        Species = Invented.Frog("wood"),
        RawPercent = 1.25,
        RawLower = -2.25,
        RawUpper = 3.25,
        PercentPerSeason = 0.5,
        Lower = -0.75,
        Upper = 1.0 / 7,
        OwnShare = 0.3,
    };

    internal static long Publish(EditionStore store, string key, params string[] areas)
    {
        long number = Draft(store, key, areas);
        Assert.Equal(number, store.Publish(Made + Duration.FromHours(1))!.Number);
        return number;
    }

    internal static EditionWork Begin(EditionStore store, string key) => store.Begin(key, Manifest(), [Heard, Silent], CancellationToken.None);

    internal static long Draft(EditionStore store, string key, params string[] areas)
    {
        var work = Begin(store, key);
        store.Add(work.Number, [.. areas.Select(Area)]);
        store.Complete(work.Number, Content(), Made, CancellationToken.None);
        return work.Number;
    }
}
