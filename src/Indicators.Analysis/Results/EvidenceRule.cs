using Indicators.Analysis.Options;

namespace Indicators.Analysis.Results;

/// <summary>
/// How much stands behind a trend: the one place where the grade is made. All limits are ours. They judge the listening and
/// not the answer: a species that clearly falls and one that nobody can tell about are measured alike.
/// </summary>
public static class EvidenceRule
{
    /// <summary>
    /// Fewer wetlands that tell something than this: thin. With 6 the intervals still hold in our simulations
    /// (docs/coverage.md), but they are up to 2.4 times as wide as with 25, and one wetland is a good part of everything.
    /// </summary>
    public const int FewWetlands = 8;

    /// <summary>From this many wetlands on there are enough: from 12 wetlands and 8 seasons on, every programme is promised an interval.</summary>
    public const int EnoughWetlands = 12;

    /// <summary>Fewer seasons than this: thin. The interval of the underlying direction is promised from 8 on.</summary>
    public const int FewSeasons = 8;

    /// <summary>From this share of seasons on in which one station alone listened: thin.</summary>
    public const double OneStationShare = 1.0 / 3;

    /// <summary>Above this share of new observers in the last three seasons: partly supported. More than half are then ears we know nothing of.</summary>
    public const double NewObserverShare = 0.5;

    /// <summary>Above this share of surveys outside the protocol: partly supported.</summary>
    public const double OutsideProtocolShare = 0.2;

    /// <summary>Fewer different observers than this are not told of, not even as a share: a share of two people is about one of them.</summary>
    public const int FewestObservers = 3;

    /// <summary>From this share of expected species on an area is well supported, see <see cref="OfArea"/>.</summary>
    public const double WellSupportedSpecies = 0.75;

    /// <summary>From this share on it is partly supported.</summary>
    public const double PartlySupportedSpecies = 0.5;

    private const EvidenceReason ThinReasons = EvidenceReason.NoInterval | EvidenceReason.VeryFewWetlands | EvidenceReason.FewSeasons
        | EvidenceReason.OneWetlandDecides | EvidenceReason.SeasonsOnOneStation;

    /// <summary>The grade that a set of reasons makes.</summary>
    public static Evidence Grade(EvidenceReason reasons) =>
        (reasons & ThinReasons) != 0 ? Evidence.Thin
        : reasons != EvidenceReason.None ? Evidence.PartlySupported
        : Evidence.WellSupported;

    /// <summary>
    /// Above this dispersion, calls scatter more than surveys could by themselves: visits of one mean m with values from 0 to
    /// the largest a have a variance of at most m (a − m), so their sum's variance is at most a times its mean. More
    /// than a means that whole seasons of a station rise and fall together.
    /// </summary>
    /// <param name="response">What the levels count.</param>
    public static double LargestDispersion(ResponseOptions response) => response.Of(response.Kind) switch { var (one, two, three) => Math.Max(three, Math.Max(two, one)) };

    /// <summary>The evidence with its reasons and its grade filled in.</summary>
    /// <param name="facts">Everything else of it.</param>
    /// <param name="trend">The trend it stands behind.</param>
    /// <param name="settings">The ceiling's warning share and the response.</param>
    public static SeriesEvidence Judge(SeriesEvidence facts, Trend trend, ProgrammeSettings settings)
    {
        var reasons = EvidenceReason.None;
        bool interval = trend is { LowerUnderlying: not null, UpperUnderlying: not null };
        double? halfWidth = (trend.UpperUnderlying - trend.LowerUnderlying) / 2;
        bool told = trend.Direction is Direction.Up or Direction.Down;
        bool heard = trend.Status != TrendStatus.NeverHeard;
        Note(!interval, EvidenceReason.NoInterval);
        Note(heard && trend.InformativeClusters < FewWetlands, EvidenceReason.VeryFewWetlands);
        Note(heard && facts.Seasons < FewSeasons, EvidenceReason.FewSeasons);
        Note(told && facts.SignHolds == false, EvidenceReason.OneWetlandDecides);
        Note(heard && facts.OneStationSeasons >= OneStationShare * facts.Seasons, EvidenceReason.SeasonsOnOneStation);
        Note(trend.InformativeClusters is >= FewWetlands and < EnoughWetlands, EvidenceReason.FewWetlands);
        Note(Math.Abs(facts.LeaveOneOutChange ?? 0) > halfWidth, EvidenceReason.OneWetlandMoves);
        Note(facts.CeilingShare >= settings.Trend.CeilingWarningShare, EvidenceReason.NearCeiling);
        Note(facts.Dispersion > LargestDispersion(settings.Response), EvidenceReason.Scattered);
        Note(facts.NewObserverShare > NewObserverShare, EvidenceReason.NewObservers);
        Note(facts.OutsideProtocolShare > OutsideProtocolShare, EvidenceReason.OutsideProtocol);
        return facts with { Reasons = reasons, Grade = Grade(reasons) };

        void Note(bool applies, EvidenceReason reason) => reasons |= applies ? reason : EvidenceReason.None;
    }

    /// <summary>
    /// How much stands behind an area's condition: by the share of its expected species whose trend is at least partly
    /// supported. Null without expected species.
    /// </summary>
    /// <param name="area">The area with its expected list.</param>
    /// <param name="evidence">The evidence of its species.</param>
    public static Evidence? OfArea(Area area, IEnumerable<SeriesEvidence> evidence)
    {
        if (area.Expected.Count == 0)
            return null;
        double share = (double)SupportedOf(area, evidence) / area.Expected.Count;
        return share >= WellSupportedSpecies ? Evidence.WellSupported
            : share >= PartlySupportedSpecies ? Evidence.PartlySupported
            : Evidence.Thin;
    }

    /// <summary>How many expected species have a trend that is at least partly supported.</summary>
    public static int SupportedOf(Area area, IEnumerable<SeriesEvidence> evidence) =>
        evidence.Count(each => each.Area == area.Code && each.Grade != Evidence.Thin && area.Expected.Contains(each.Species));
}
