using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class ConditionSentencesTests
{
    private static readonly Condition Fair = new()
    {
        Area = WatershedCode.Parse("990100010101").Value,
        Season = 2026,
        Lacks = ScoreLack.None,
        Score = 63.4,
        Lower = 55.2,
        Upper = 70.8,
        Class = ConditionClass.Fair,
        ProbabilityGood = 0.08,
        ProbabilityFair = 0.92,
        ProbabilityPoor = 0,
        Expected = 9,
        Heard = 8,
        SeasonsInWindow = 3,
        Wetlands = 10,
        Surveys = 88,
    };

    private static ConditionTopic Topic(Condition condition, ProgrammeSettings? settings = null) =>
        new(condition, "Marl Creek", true, settings ?? new ProgrammeSettings());

    private static Condition Shares(double good, double fair, double poor) =>
        Fair with { ProbabilityGood = good, ProbabilityFair = fair, ProbabilityPoor = poor };

    internal static IEnumerable<ConditionTopic> Sweep()
    {
        foreach (string area in new[] { "Marl Creek", "Otter Lake", "Upper Reed River" })
        {
            foreach (var (good, fair, poor) in new[] { (1.0, 0, 0), (0.81, 0.19, 0), (0.5, 0.5, 0), (0.08, 0.92, 0), (0, 0.7, 0.3), (0.001, 0.1, 0.899), (0.3, 0.4, 0.3), (0.5, 0, 0.5) })
                yield return Topic(Shares(good, fair, poor)) with { Area = area };
            yield return Topic(Fair, new ProgrammeSettings { Baseline = new BaselineOptions { Seasons = [2013, 2012, 2014] } }) with { Area = area, ExpectedIsGiven = false };
            yield return Topic(Fair with { Lower = null, Upper = null, ProbabilityFair = null }) with { Area = area };
            for (int lacks = 1; lacks < 128; lacks++)
            {
                foreach (int number in new[] { 0, 1, 2, 12 })
                    yield return Topic(new Condition { Area = Fair.Area, Season = 2013, Lacks = (ScoreLack)lacks, SeasonsInWindow = number, Wetlands = number, Expected = number }) with { Area = area };
            }
        }
    }

    [Fact]
    public void Answer_says_class_points_range_and_with_what_it_is_compared() => Assert.Equal(
        "In 2026 Marl Creek was in fair condition. It got 63 of 100 points (95 % range: 55 to 71). " +
        "We compare it with its first 3 seasons and with the frogs and toads we expect there.",
        ConditionSentences.Answer(Topic(Fair)).Replace('\u00A0', ' '));

    [Theory]
    [InlineData(3, "A score needs 2 seasons of listening before it.")]
    [InlineData(5, "A score needs 4 seasons of listening before it.")]
    [InlineData(2, "A score needs 1 season of listening before it.")]
    public void Early_season_names_the_seasons_that_the_programmes_own_window_needs(int window, string said) => Assert.Equal(said, ConditionSentences.Missing(Topic(
        new Condition { Area = Fair.Area, Season = 2013, Lacks = ScoreLack.EarlySeason },
        new ProgrammeSettings { Score = new ScoreOptions { WindowSeasons = window } })).Replace('\u00A0', ' '));

    [Theory]
    [InlineData(0.80, 0.20, 0.00, "good")]
    [InlineData(0.79, 0.21, 0.00, "between fair and good")]
    [InlineData(0.10, 0.70, 0.20, "between poor and fair")]
    [InlineData(0.20, 0.70, 0.10, "between fair and good")]
    [InlineData(0.00, 0.20, 0.80, "poor")]
    [InlineData(0.05, 0.80, 0.15, "fair")]
    [InlineData(0.40, 0.20, 0.40, "anywhere from poor to good")]
    [InlineData(0.25, 0.45, 0.30, "anywhere from poor to good")]
    public void Class_stands_alone_only_when_four_in_five_draws_agree(double good, double fair, double poor, string words) =>
        Assert.Equal(words, ConditionSentences.ClassWords(Shares(good, fair, poor)));

    [Fact]
    public void Class_is_never_told_without_what_it_is_compared_with()
    {
        foreach (var topic in Sweep().Where(topic => ConditionSentences.ClassWords(topic.Condition) is not null))
            Assert.Contains("We compare it with", ConditionSentences.Answer(topic), StringComparison.Ordinal);
    }

    [Fact]
    public void Score_without_a_range_gets_no_class_and_no_number()
    {
        string answer = ConditionSentences.Answer(Topic(Fair with { Lower = null, Upper = null }));
        Assert.Contains("can't tell yet", answer, StringComparison.Ordinal);
        Assert.DoesNotContain("63", answer, StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_names_each_lack_with_what_is_needed()
    {
        var few = new Condition { Area = Fair.Area, Season = 2013, Lacks = ScoreLack.FewWetlands | ScoreLack.FewSeasons, Wetlands = 3, SeasonsInWindow = 1 };
        Assert.Equal(
            "It needs 2 seasons with surveys out of the last 3; there is 1. It needs 5 wetlands; there are 3.",
            ConditionSentences.Missing(Topic(few)).Replace('\u00A0', ' '));
    }

    [Fact]
    public void Missing_is_never_empty_when_a_score_is()
    {
        foreach (var topic in Sweep().Where(topic => topic.Condition.Score is null))
            Assert.NotEqual("", ConditionSentences.Missing(topic));
    }

    [Fact]
    public void Wetlands_enough_to_listen_at_but_not_enough_that_heard_are_not_called_too_few()
    {
        var heardAtNone = new Condition { Area = Fair.Area, Season = 2026, Lacks = ScoreLack.FewWetlands, SeasonsInWindow = 3, Wetlands = 12, Expected = 3 };
        Assert.Equal(
            "We can't give Marl Creek a score for 2026 yet. It needs 5 wetlands that heard a species we expect, in two seasons of listening or more.",
            ConditionSentences.Answer(Topic(heardAtNone)).Replace('\u00A0', ' '));
        Assert.Equal("It needs 5 wetlands; there are 3.", ConditionSentences.Missing(Topic(heardAtNone with { Wetlands = 3 })).Replace('\u00A0', ' '));
    }

    [Fact]
    public void Named_baseline_seasons_are_named() =>
        Assert.Equal("the baseline seasons 2012, 2013 and 2014", ConditionSentences.Baseline(new BaselineOptions { Seasons = [2013, 2012, 2014] }));
}
