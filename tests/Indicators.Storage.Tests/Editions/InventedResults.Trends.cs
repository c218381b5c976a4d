using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;

namespace Indicators.Storage.Tests.Editions;

/// <summary>What stands behind an area's trends and beside them.</summary>
internal static partial class InventedResults
{
    private static IReadOnlyList<SeriesEvidence> EvidenceOf(WatershedCode area) =>
    [
        new SeriesEvidence { Area = area, Species = Invented.Frog("marsh"), Grade = Evidence.Thin, Reasons = EvidenceReason.NoInterval },
        new SeriesEvidence
        {
            Area = area,
            Species = Invented.Frog("wood"),
            Grade = Evidence.PartlySupported,
            Reasons = EvidenceReason.Scattered | EvidenceReason.OutsideProtocol,
            LeaveOneOutChange = -1.0 / 3,
            LeftOut = Invented.Pond("W2"),
            LeftOutStations = 71,
            SignHolds = false,
            Dispersion = 3.25,
            DispersionDf = 72,
            ZeroCellShare = 0.73,
            Seasons = 74,
            OneStationSeasons = 75,
            CeilingShare = 0.76,
            Observers = 77,
            NewObserverShare = 0.78,
            OutsideProtocolShare = 0.79,
        },
    ];

    private static IReadOnlyList<TrendVariant> VariantsOf(WatershedCode area) =>
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
    ];

    private static IReadOnlyList<CovariateEffect> EffectsOf(WatershedCode area) =>
    [
        new CovariateEffect
        {
            Area = area,
            Species = Invented.Frog("wood"),
            Covariate = VisitCovariate.Wind,
            Status = EffectStatus.Estimated,
            Effect = -0.1,
            Lower = -0.2,
            Upper = 1.0 / 7,
            PercentPerUnit = -12.3,
            PercentLower = -23.4,
            PercentUpper = 34.5,
            Mean = 1.5,
            Sd = 0.75,
            Missing = 41,
            Surveys = 42,
        },
        // Later in the list of covariates, earlier in the alphabet.
        new CovariateEffect { Area = area, Species = Invented.Frog("wood"), Covariate = VisitCovariate.FirstSeason, Status = EffectStatus.NotSeparable },
    ];
}
