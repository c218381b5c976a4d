using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class EvidenceSentencesTests
{
    private static readonly Trend Falling = TrendSweep.Beneath(TrendSweep.Of(-6.2, -4.1, -2.3, Direction.Down));

    internal static SeriesEvidence Of(EvidenceReason reasons) => new()
    {
        Area = Falling.Area,
        Species = Falling.Species,
        Grade = EvidenceRule.Grade(reasons),
        Reasons = reasons,
        LeaveOneOutChange = -1.234,
        SignHolds = true,
        Dispersion = 1.375,
        DispersionDf = 1140,
        ZeroCellShare = 0.4,
        Seasons = 15,
        OneStationSeasons = 6,
        CeilingShare = 0.12,
        Observers = 9,
        NewObserverShare = 0.61,
        OutsideProtocolShare = 0.31,
    };

    /// <summary>Every reason alone and all together, over trends with and without a range, over wetlands and over stations.</summary>
    internal static IEnumerable<string> Sweep()
    {
        Trend[] trends =
        [
            Falling,
            Falling with { InformativeClusters = 7 },
            Falling with { InformativeClusters = 1 },
            Falling with { InformativeClusters = 0 },
            Falling with { Clusters = 1, InformativeClusters = 6 },
            TrendSweep.Of(null, -7, null, Direction.Unclear) with { Interval = IntervalKind.FewClusters, InformativeClusters = 3 },
        ];
        var reasons = Enum.GetValues<EvidenceReason>().ToList();
        reasons.Add(reasons.Aggregate((one, other) => one | other));
        foreach (var trend in trends)
        {
            foreach (var reason in reasons)
            {
                foreach (int seasons in new[] { 1, 6, 15 })
                    yield return EvidenceSentences.Answer(Of(reason) with { Seasons = seasons, OneStationSeasons = Math.Min(seasons, 6) }, trend)!;
            }
        }
        for (int supported = 0; supported <= 4; supported++)
            yield return EvidenceSentences.OfArea(Four, Graded(supported))!;
        for (int loud = 1; loud <= 4; loud++)
            yield return EvidenceSentences.OfArea(Four, AtCeiling(loud))!;
    }

    private static readonly Area Four = new() { Code = Falling.Area, Expected = [.. "abcd".Select(letter => Id<Species>.Parse(letter.ToString()).Value)] };

    private static List<SeriesEvidence> Graded(int supported) =>
        [.. Four.Expected.Select((id, i) => Of(i < supported ? EvidenceReason.None : EvidenceReason.FewSeasons) with { Species = id })];

    private static List<SeriesEvidence> AtCeiling(int loud) =>
        [.. Four.Expected.Select((id, i) => Of(i < loud ? EvidenceReason.NearCeiling : EvidenceReason.None) with { Species = id })];

    private static string Plain(string? text) => (text ?? "").Replace('\u00A0', ' ');

    [Fact]
    public void Grade_and_reasons_read_as_the_model_sentences()
    {
        Assert.Equal(
            "This result is well supported. It rests on many places and seasons, and no single one moves it far.",
            EvidenceSentences.Answer(Of(EvidenceReason.None), Falling));
        Assert.Equal(
            "This result is partly supported. It rests on just 11 wetlands. People who are new here made 61 % of the last three seasons' surveys.",
            Plain(EvidenceSentences.Answer(Of(EvidenceReason.FewWetlands | EvidenceReason.NewObservers), Falling)));
        Assert.Equal(
            "This result is thin. If we left out one station, we would not say so. In 6 of 15 seasons we listened at just one place that has heard it.",
            EvidenceSentences.Answer(Of(EvidenceReason.OneWetlandDecides | EvidenceReason.SeasonsOnOneStation), Falling with { Clusters = 1, InformativeClusters = 6 }));
    }

    [Fact]
    public void Every_reason_has_a_sentence_of_its_own()
    {
        var said = Enum.GetValues<EvidenceReason>().Select(reason => EvidenceSentences.Answer(Of(reason), Falling)!).ToList();
        // Few wetlands and very few say the same, each with its number and its grade.
        Assert.Equal(said.Count, said.Distinct().Count());
        Assert.All(said, text => Assert.DoesNotMatch(@"  |\.\.|\{| $|result is \w+( \w+)?\.$", text));
    }

    [Fact]
    public void What_a_result_without_a_range_lacks_is_not_said_twice()
    {
        var few = TrendSweep.Of(null, -7, null, Direction.Unclear) with { Interval = IntervalKind.FewClusters, InformativeClusters = 3 };
        Assert.Equal("This result is thin.", EvidenceSentences.Answer(Of(EvidenceReason.NoInterval | EvidenceReason.VeryFewWetlands), few));
    }

    [Fact]
    public void Nothing_heard_or_nothing_graded_says_nothing()
    {
        var never = Falling with { Status = TrendStatus.NeverHeard };
        Assert.Null(EvidenceSentences.Answer(Of(EvidenceReason.NoInterval), never));
        Assert.Equal("", EvidenceSentences.Label(Of(EvidenceReason.NoInterval), never));
        Assert.Null(EvidenceSentences.Answer(null, Falling));
        Assert.Null(EvidenceSentences.OfArea(Four, []));
        Assert.Null(EvidenceSentences.OfArea(Four with { Expected = [] }, Graded(4)));
    }

    [Fact]
    public void Area_counts_the_species_behind_its_score()
    {
        Assert.Equal(
            "Of the 4 species we expect, 3 have a trend that is well or partly supported. So we call the score well supported.",
            Plain(EvidenceSentences.OfArea(Four, Graded(3))));
        Assert.Equal(
            "Of the 4 species we expect, 1 has a trend that is well or partly supported. So we call the score thin.",
            Plain(EvidenceSentences.OfArea(Four, Graded(1))));
    }

    [Fact]
    public void Score_that_full_choruses_may_flatter_says_so()
    {
        Assert.EndsWith(
            "So we call the score well supported. One of them is often heard at full chorus, where a loss hardly shows. So the score may be too high.",
            Plain(EvidenceSentences.OfArea(Four, AtCeiling(1))), StringComparison.Ordinal);
        Assert.Contains("4 of them are often heard at full chorus", Plain(EvidenceSentences.OfArea(Four, AtCeiling(4))), StringComparison.Ordinal);
        // A species that nobody expects is not in the score.
        Assert.DoesNotContain(
            "full chorus", EvidenceSentences.OfArea(Four, [.. Graded(4), Of(EvidenceReason.NearCeiling)]), StringComparison.Ordinal);
    }

    [Fact]
    public void Facts_hold_every_number_there_is_and_no_other()
    {
        var facts = EvidenceSentences.Facts(Of(EvidenceReason.None), Falling).ToDictionary(fact => fact.Name, fact => Plain(fact.Value));
        Assert.Equal("\u22121.23 percentage points", facts["Change each season without one wetland, largest difference"]);
        Assert.Equal("1.38 on 1,140 degrees of freedom", facts["Scatter about the trend (Pearson, 1 for Poisson)"]);
        Assert.Equal(11, facts.Count);
        var bare = new SeriesEvidence { Area = Falling.Area, Species = Falling.Species, Grade = Evidence.Thin, Reasons = EvidenceReason.NoInterval };
        Assert.Equal(2, EvidenceSentences.Facts(bare, Falling).Count);
        Assert.Equal(3, EvidenceSentences.Facts(bare with { OneStationSeasons = 0 }, Falling).Count);
    }
}
