using Indicators.Analysis.Areas;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Statistics.Fits;

namespace Indicators.Analysis.Fits;

/// <summary>From a species' fit and the visits behind it to what an edition tells of how well a trend is supported.</summary>
internal static class EvidenceResult
{
    public static SeriesEvidence Of(
        SpeciesFit fit, LeaveOneOut? without, Trend trend, ListeningFacts listening, AreaClusters clusters, ProgrammeSettings settings)
    {
        var series = fit.Series;
        var facts = new SeriesEvidence
        {
            Area = trend.Area,
            Species = trend.Species,
            Grade = Evidence.Thin,
            Reasons = EvidenceReason.NoInterval,
            Seasons = series.Seasons.Length,
            OneStationSeasons = series.StationsBySeason.Count(stations => stations == 1),
            CeilingShare = trend.CeilingShare,
            ZeroCellShare = ZeroCells(series),
            Observers = listening.Observers,
            NewObserverShare = listening.NewObserverShare,
            OutsideProtocolShare = listening.OutsideProtocolShare,
        };
        if (without is not null)
            facts = WithEstimate(facts, fit, without, clusters);
        return EvidenceRule.Judge(facts, trend, settings);
    }

    private static SeriesEvidence WithEstimate(SeriesEvidence facts, SpeciesFit fit, LeaveOneOut without, AreaClusters clusters)
    {
        var panel = fit.Series.Panel!;
        double slope = fit.Slope.Value;
        var dispersion = TrendDispersion.Of(panel, slope);
        facts = facts with
        {
            SignHolds = without.KeepsSignOf(slope),
            Dispersion = dispersion.Value is { } value && double.IsFinite(value) ? value : null,
            DispersionDf = dispersion.DegreesOfFreedom,
        };
        if (!without.IsFinite)
            return facts;
        int furthest = without.Furthest(slope);
        return facts with
        {
            LeaveOneOutChange = 100 * (double.ExpM1(without.Slopes[furthest]) - double.ExpM1(slope)),
            LeftOut = clusters.AreStations ? null : clusters.Wetlands[furthest],
            LeftOutStations = Enumerable.Range(0, panel.Units).Count(s => panel.ClusterOf(s) == furthest),
        };
    }

    private static double? ZeroCells(SpeciesSeries series) =>
        series.Panel?.CountCells() is var (cells, zero) ? (double)zero / cells : null;
}
