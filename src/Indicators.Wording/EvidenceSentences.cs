using Indicators.Analysis.Results;
using static Indicators.Wording.Language;

namespace Indicators.Wording;

/// <summary>
/// How much stands behind a trend, in sentences: the grade and, where it is not the best, each reason with its number.
/// </summary>
public static class EvidenceSentences
{
    /// <summary>A heading for the grade.</summary>
    public static string Heading => Say("evidence.heading");

    /// <summary>A heading for what the grade was made from.</summary>
    public static string NumbersHeading => Say("evidence.numbers");

    /// <summary>The grade in words.</summary>
    public static string Label(Evidence grade) => grade switch
    {
        Evidence.WellSupported => Say("evidence.grade.well"),
        Evidence.PartlySupported => Say("evidence.grade.partly"),
        _ => Say("evidence.grade.thin"),
    };

    /// <summary>The grade of a trend for a table's cell; empty where nothing was heard, or nothing was graded.</summary>
    public static string Label(SeriesEvidence? evidence, Trend trend) =>
        evidence is null || trend.Status == TrendStatus.NeverHeard ? "" : Label(evidence.Grade);

    /// <summary>The grade and why, for everybody; null where nothing was heard or nothing was graded.</summary>
    public static string? Answer(SeriesEvidence? evidence, Trend trend)
    {
        if (evidence is null || trend.Status == TrendStatus.NeverHeard)
            return null;
        string grade = Say("evidence.says", ("grade", Label(evidence.Grade)));
        if (evidence.Grade == Evidence.WellSupported)
            return $"{grade} {Say("evidence.nothingAgainst")}";
        // What a result without a range lacks has been said where the range would stand.
        var said = TrendSentences.HasInterval(trend) ? EvidenceReason.None : SaidWithoutRange;
        return string.Join(' ', EvidenceReasons.Each(evidence.Reasons & ~said).Select(reason => Why(reason, evidence, trend)).Prepend(grade));
    }

    /// <summary>How well the condition of an area is supported, and whether full choruses may flatter it; null without expected species, or where nothing was graded.</summary>
    public static string? OfArea(Area area, IReadOnlyCollection<SeriesEvidence> evidence)
    {
        if (evidence.Count == 0 || EvidenceRule.OfArea(area, evidence) is not { } grade)
            return null;
        int supported = EvidenceRule.SupportedOf(area, evidence), expected = area.Expected.Count;
        string count = supported == 0
            ? Say("evidence.areaNone")
            : Say("evidence.areaSome", ("expected", expected), ("supported", supported));
        // What the scale cannot show of a species, the score cannot either.
        int atCeiling = evidence.Count(each => each.Reasons.HasFlag(EvidenceReason.NearCeiling) && area.Expected.Contains(each.Species));
        string?[] sentences =
        [
            count,
            Say("evidence.areaGrade", ("grade", Label(grade))),
            atCeiling > 0 ? Say("evidence.areaCeiling", ("n", atCeiling)) : null,
        ];
        return string.Join(' ', sentences.OfType<string>());
    }

    /// <summary>What the grade was made from, for those who work with the numbers: a name and a value each.</summary>
    public static IReadOnlyList<(string Name, string Value)> Facts(SeriesEvidence evidence, Trend trend)
    {
        var facts = new List<(string, string)>();
        string unit = TrendSentences.Unit(trend);
        Add(Say("evidence.fact.places", ("unit", unit)), Phrases.Count(trend.InformativeClusters));
        Add(Say("evidence.fact.seasons"), Phrases.Count(evidence.Seasons));
        Add(Say("evidence.fact.oneStation"), evidence.OneStationSeasons is { } alone ? Phrases.Count(alone) : null);
        Add(
            Say("evidence.fact.leaveOut", ("unit", unit)),
            evidence.LeaveOneOutChange is { } change ? Say("evidence.fact.leaveOutValue", ("change", Phrases.WithSign(change, "0.00"))) : null);
        Add(Say("evidence.fact.sign"), evidence.SignHolds is { } holds ? Say("evidence.fact.yesNo", ("holds", holds)) : null);
        Add(
            Say("evidence.fact.scatter"),
            evidence is { Dispersion: { } scatter, DispersionDf: { } df } ? Say("evidence.fact.scatterValue", ("scatter", Phrases.Number(scatter, "0.00")), ("df", df)) : null);
        Add(Say("evidence.fact.zero"), evidence.ZeroCellShare is { } zero ? Phrases.Share(zero) : null);
        Add(Say("evidence.fact.ceiling"), evidence.CeilingShare is { } ceiling ? Phrases.Share(ceiling) : null);
        Add(Say("evidence.fact.observers"), evidence.Observers is { } observers ? Phrases.Count(observers) : null);
        Add(Say("evidence.fact.newObservers"), evidence.NewObserverShare is { } ears ? Phrases.Share(ears) : null);
        Add(Say("evidence.fact.outside"), evidence.OutsideProtocolShare is { } outside ? Phrases.Share(outside) : null);
        return facts;

        void Add(string name, string? value)
        {
            if (value is not null)
                facts.Add((name, value));
        }
    }

    private const EvidenceReason SaidWithoutRange = EvidenceReason.NoInterval | EvidenceReason.VeryFewWetlands | EvidenceReason.FewSeasons;

    private static string Why(EvidenceReason reason, SeriesEvidence evidence, Trend trend) => reason switch
    {
        EvidenceReason.NoInterval => Say("evidence.why.noRange"),
        EvidenceReason.VeryFewWetlands or EvidenceReason.FewWetlands => Say("evidence.why.places", ("n", trend.InformativeClusters), ("unit", TrendSentences.Unit(trend))),
        EvidenceReason.FewSeasons => Say("evidence.why.seasons", ("n", evidence.Seasons)),
        EvidenceReason.OneWetlandDecides => Say("evidence.why.oneDecides", ("unit", TrendSentences.Unit(trend))),
        EvidenceReason.SeasonsOnOneStation => evidence.Seasons == 1
            ? Say("evidence.why.oneStationOnly")
            : evidence.OneStationSeasons is { } alone ? Say("evidence.why.oneStation", ("n", alone), ("seasons", evidence.Seasons))
            : Say("evidence.why.oneStationKept"),
        EvidenceReason.OneWetlandMoves => Say("evidence.why.oneMoves", ("unit", TrendSentences.Unit(trend))),
        EvidenceReason.NearCeiling => Say("evidence.why.ceiling"),
        EvidenceReason.Scattered => Say("evidence.why.scattered"),
        EvidenceReason.NewObservers => evidence.NewObserverShare is { } share ? Say("evidence.why.newObservers", ("share", Phrases.Share(share))) : "",
        _ => evidence.OutsideProtocolShare is { } share ? Say("evidence.why.outside", ("share", Phrases.Share(share))) : "",
    };
}
