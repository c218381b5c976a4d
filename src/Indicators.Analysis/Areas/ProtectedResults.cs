using Indicators.Analysis.Results;

namespace Indicators.Analysis.Areas;

/// <summary>
/// Results of a protected species without what could tell where it was heard.
/// </summary>
/// <remarks>
/// Whose surveys were made when and where is public. A count of stations, surveys or cells that is made over those alone that heard a species can be looked for among
/// them, and often only one set of stations has it, the more so the more seasons are counted. So such counts are left out, and shares of few surveys are rounded.
/// </remarks>
internal static class ProtectedResults
{
    private const int Digits = 2;

    /// <summary>A trend.</summary>
    public static Trend Of(Trend trend) => trend with { Stations = null, Surveys = null, SilentStations = null, CeilingShare = Rounded(trend.CeilingShare) };

    /// <summary>A trend of another window, response or model.</summary>
    public static TrendVariant Of(TrendVariant trend) => trend with { Clusters = null, Stations = null, Surveys = null, CeilingShare = Rounded(trend.CeilingShare) };

    /// <summary>Yearly indices: none of a season in which fewer wetlands than may be told of were surveyed.</summary>
    /// <param name="points">The indices.</param>
    /// <param name="surveyed">How many wetlands of the area were surveyed in the species' calling window of a season.</param>
    /// <param name="minimumWetlands">The fewest.</param>
    public static IEnumerable<IndexPoint> Of(IEnumerable<IndexPoint> points, Func<int, int> surveyed, int minimumWetlands) =>
        points.Where(point => surveyed(point.Season) >= minimumWetlands)
            .Select(point => point with { MeanCallLevel = null, Stations = null, Surveys = null });

    /// <summary>What stands behind a trend.</summary>
    public static SeriesEvidence Of(SeriesEvidence evidence) => evidence with
    {
        LeftOut = null, LeftOutStations = null, DispersionDf = null, ZeroCellShare = null, OneStationSeasons = null, CeilingShare = Rounded(evidence.CeilingShare),
    };

    /// <summary>An effect of the adjusted model.</summary>
    public static CovariateEffect Of(CovariateEffect effect) => effect with { Missing = null, Surveys = null };

    private static double? Rounded(double? share) => share is { } value ? Math.Round(value, Digits) : null;
}
