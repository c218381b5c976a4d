using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Storage.Editions;
using NodaTime;
using Xunit;

namespace Indicators.Storage.Tests.Editions;

/// <summary>Results with a different value in every field, so that two mixed-up columns show.</summary>
internal static class InventedResults
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
        return new AreaResult
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
            ],
            Variants =
            [
                new TrendVariant
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Window = TrendWindow.Last10,
                    Response = ResponseKind.Heard,
                    Model = TrendModel.Adjusted,
                    Status = TrendStatus.Estimated,
                    FirstSeason = 2013,
                    LastSeason = 2014,
                    PercentPerSeason = -1.5,
                    Lower = -2.5,
                    Upper = 3.5,
                    Interval = IntervalKind.ObservedChange,
                    LowerUnderlying = -4.5,
                    UpperUnderlying = 5.5,
                    SeasonSd = 0.25,
                    Direction = Direction.Down,
                    TotalChangePercent = -6.5,
                    TotalLower = -7.5,
                    TotalUpper = 8.5,
                    ProbabilityOfDecline = 0.9,
                    ProbabilityBelowMinus30 = 0.8,
                    ProbabilityBelowMinus50 = 0.7,
                    ProbabilityBelowMinus80 = 0.6,
                    Clusters = 51,
                    Stations = 52,
                    Surveys = 53,
                    CeilingShare = 0.54,
                },
                new TrendVariant
                {
                    Area = area,
                    Species = Invented.Frog("wood"),
                    Window = TrendWindow.Whole,
                    Response = ResponseKind.Heard,
                    Model = TrendModel.Raw,
                    Status = TrendStatus.NeverHeard,
                    Interval = IntervalKind.NoEstimate,
                },
            ],
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
                    Lines =
                    [
                        new ConditionLine(ScorePart.Presence, Invented.Frog("wood"), -10.5, 1.5),
                        new ConditionLine(ScorePart.Calling, null, -18.4, null),
                    ],
                },
            ],
        };
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
        [Silent, Heard]);

    internal static long Publish(EditionStore store, string key, params string[] areas)
    {
        long number = Draft(store, key, areas);
        Assert.Equal(number, store.Publish(Made + Duration.FromHours(1))!.Number);
        return number;
    }

    internal static long Draft(EditionStore store, string key, params string[] areas)
    {
        var work = store.Begin(key, Manifest());
        store.Add(work.Number, [.. areas.Select(Area)]);
        store.Complete(work.Number, Content(), Made, CancellationToken.None);
        return work.Number;
    }
}
