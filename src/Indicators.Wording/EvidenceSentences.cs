using System.Globalization;
using Indicators.Analysis.Results;

namespace Indicators.Wording;

/// <summary>
/// How much stands behind a trend, in sentences: the grade and, where it is not the best, each reason with its number.
/// </summary>
public static class EvidenceSentences
{
    /// <summary>A heading for the grade.</summary>
    public const string Heading = "How well supported";

    /// <summary>The grade in words.</summary>
    public static string Label(Evidence grade) => grade switch
    {
        Evidence.WellSupported => "well supported",
        Evidence.PartlySupported => "partly supported",
        _ => "thin",
    };

    /// <summary>The grade of a trend for a table's cell; empty where nothing was heard, or nothing was graded.</summary>
    public static string Label(SeriesEvidence? evidence, Trend trend) =>
        evidence is null || trend.Status == TrendStatus.NeverHeard ? "" : Label(evidence.Grade);

    /// <summary>The grade and why, for everybody; null where nothing was heard or nothing was graded.</summary>
    public static string? Answer(SeriesEvidence? evidence, Trend trend)
    {
        if (evidence is null || trend.Status == TrendStatus.NeverHeard)
            return null;
        string grade = $"This result is {Label(evidence.Grade)}.";
        if (evidence.Grade == Evidence.WellSupported)
            return $"{grade} {NothingSpeaksAgainst}";
        // What a result without a range lacks has been said where the range would stand.
        var said = TrendSentences.HasInterval(trend) ? EvidenceReason.None : SaidWithoutRange;
        return string.Join(' ', EvidenceReasons.Each(evidence.Reasons & ~said).Select(reason => Why(reason, evidence, trend)).Prepend(grade));
    }

    /// <summary>How well the condition of an area is supported; null without expected species, or where nothing was graded.</summary>
    public static string? OfArea(Area area, IReadOnlyCollection<SeriesEvidence> evidence)
    {
        if (evidence.Count == 0 || EvidenceRule.OfArea(area, evidence) is not { } grade)
            return null;
        int supported = EvidenceRule.SupportedOf(area, evidence), expected = area.Expected.Count;
        string count = supported == 0
            ? "None of the species we expect have a trend that is well or partly supported."
            : $"Of the {Phrases.Count(expected, "species", "species")} we expect, {Phrases.Count(supported)} {(supported == 1 ? "has" : "have")} a trend that is well or partly supported.";
        return $"{count} So we call the score {Label(grade)}.";
    }

    /// <summary>What the grade was made from, for those who work with the numbers: a name and a value each.</summary>
    public static IReadOnlyList<(string Name, string Value)> Facts(SeriesEvidence evidence, Trend trend)
    {
        var facts = new List<(string, string)>();
        Add($"{Phrases.Capital(Unit(trend, one: false))} that tell something", Phrases.Count(trend.InformativeClusters));
        Add("Seasons", Phrases.Count(evidence.Seasons));
        Add("Of these with one station only", Phrases.Count(evidence.OneStationSeasons));
        Add(
            $"Change each season without one {Unit(trend, one: true)}, largest difference",
            evidence.LeaveOneOutChange is { } change ? $"{Signed(change)} percentage points" : null);
        Add("Same sign whichever is left out", evidence.SignHolds is { } holds ? (holds ? "yes" : "no") : null);
        Add(
            "Scatter about the trend (Pearson, 1 for Poisson)",
            evidence is { Dispersion: { } scatter, DispersionDf: { } df } ? $"{scatter.ToString("0.00", CultureInfo.InvariantCulture)} on {Phrases.Count(df)} degrees of freedom" : null);
        Add("Station seasons without a call", evidence.ZeroCellShare is { } zero ? Phrases.Share(zero) : null);
        Add("Surveys at full chorus", evidence.CeilingShare is { } ceiling ? Phrases.Share(ceiling) : null);
        Add("Observers", evidence.Observers is { } observers ? Phrases.Count(observers) : null);
        Add("Surveys of the last three seasons by new observers", evidence.NewObserverShare is { } ears ? Phrases.Share(ears) : null);
        Add("Surveys outside the protocol", evidence.OutsideProtocolShare is { } outside ? Phrases.Share(outside) : null);
        return facts;

        void Add(string name, string? value)
        {
            if (value is not null)
                facts.Add((name, value));
        }
    }

    private const EvidenceReason SaidWithoutRange = EvidenceReason.NoInterval | EvidenceReason.VeryFewWetlands | EvidenceReason.FewSeasons;

    private const string NothingSpeaksAgainst = "It rests on many places and seasons, and no single one moves it far.";

    private static string Why(EvidenceReason reason, SeriesEvidence evidence, Trend trend) => reason switch
    {
        EvidenceReason.NoInterval => "It has no range yet.",
        EvidenceReason.VeryFewWetlands or EvidenceReason.FewWetlands => trend.InformativeClusters switch
        {
            0 => $"No {Unit(trend, one: true)} can show a change yet.",
            1 => $"It rests on just one {Unit(trend, one: true)}.",
            var some => $"It rests on just {Phrases.Count(some)} {Unit(trend, one: false)}.",
        },
        EvidenceReason.FewSeasons => evidence.Seasons == 1
            ? "There is only one season so far."
            : $"There are only {Phrases.Count(evidence.Seasons)} seasons so far.",
        EvidenceReason.OneWetlandDecides => $"If we left out one {Unit(trend, one: true)}, we would not say so.",
        EvidenceReason.SeasonsOnOneStation => evidence.Seasons == 1
            ? "We listened at just one place that has heard it."
            : $"In {Phrases.Count(evidence.OneStationSeasons)} of {Phrases.Count(evidence.Seasons)} seasons we listened at just one place that has heard it.",
        EvidenceReason.OneWetlandMoves => $"One {Unit(trend, one: true)} moves it a lot.",
        EvidenceReason.NearCeiling => "Full choruses may hide a change.",
        EvidenceReason.Scattered => "Calls rise and fall a lot from one season to the next.",
        EvidenceReason.NewObservers => evidence.NewObserverShare is { } share
            ? $"People who are new here made {Phrases.Share(share)} of the last three seasons' surveys."
            : "",
        _ => evidence.OutsideProtocolShare is { } share ? $"On {Phrases.Share(share)} of surveys the survey rules were not kept." : "",
    };

    // In an area that is one wetland it is the stations that are counted and left out.
    private static string Unit(Trend trend, bool one) =>
        trend.Clusters == 1 && trend.InformativeClusters > 1 ? (one ? "station" : "stations") : (one ? "wetland" : "wetlands");

    private static string Signed(double points) =>
        (points < 0 ? "\u2212" : "+") + Math.Abs(points).ToString("0.00", CultureInfo.InvariantCulture);
}
