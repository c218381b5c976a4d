using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>What is said of one result in two editions, and of what can have moved it.</summary>
public sealed class ComparisonSentencesTests
{
    private static readonly Condition Good = new()
    {
        Area = WatershedCode.Parse("990100010101").Value, Season = 2026, Lacks = ScoreLack.None, Score = 81.04, Lower = 66.4, Upper = 86.2,
        Class = ConditionClass.Good, ProbabilityGood = 0.9, ProbabilityFair = 0.1, ProbabilityPoor = 0, Expected = 9, Heard = 8, SeasonsInWindow = 3, Wetlands = 10, Surveys = 88,
    };

    private static readonly Condition None = new() { Area = Good.Area, Season = 2026, Lacks = ScoreLack.FewWetlands };

    private static string? Both(string language, Condition? before, Condition? after) => LanguageTests.In(language, () => ComparisonSentences.Moved(before, after));

    [Fact]
    public void Score_that_moved_by_what_a_reader_sees_is_told_in_points()
    {
        Assert.Equal("\u22121.7 points", Both("en", Good, Good with { Score = 79.34 }));
        Assert.Equal("+0,1 puntos", Both("es", Good, Good with { Score = 81.1 }));
    }

    [Fact]
    public void Score_that_stood_is_told_by_its_class_and_its_range_or_not_at_all()
    {
        var between = Good with { Class = null, ProbabilityGood = 0.7, ProbabilityFair = 0.3 };
        Assert.Equal("class", Both("en", Good, between with { Score = 81.06 }));
        Assert.Equal("class and range", Both("en", Good, between with { Lower = 64 }));
        Assert.Equal("range", Both("en", Good, Good with { Upper = 88 }));
        Assert.Equal("clase y rango", Both("es", Good, between with { Lower = 64 }));
        Assert.Null(Both("en", Good, Good with { Score = 81.05, Lower = 66.3, Upper = 86.4 }));
        Assert.Null(Both("en", None, None with { Wetlands = 3 }));
    }

    [Fact]
    public void Number_that_is_only_rounded_the_other_way_moved_by_under_a_tenth()
    {
        Assert.Equal("under 0.1 points", Both("en", Good with { Score = 80.49 }, Good with { Score = 80.51 }));
        Assert.Equal("menos de 0,1 puntos", Both("es", Good with { Score = 80.49 }, Good with { Score = 80.51 }));
        var slow = TrendSweep.Of(-8, -2.499, 6, Direction.Unclear);
        Assert.Equal("under 0.1 percentage points", ComparisonSentences.Moved(slow, slow with { PercentPerSeason = -2.501 }));
    }

    [Fact]
    public void Score_that_came_or_went_is_told_so()
    {
        Assert.Equal("has a score now", Both("en", None, Good));
        Assert.Equal("has a score now", Both("en", null, Good));
        Assert.Equal("has no score now", Both("en", Good, None));
        Assert.Equal("ahora no tiene puntaje", Both("es", Good, null));
    }

    [Fact]
    public void Trend_is_told_by_its_slope_its_word_and_its_range_or_not_at_all()
    {
        var down = TrendSweep.Of(-6.6, -3.4, -0.1, Direction.Down);
        Assert.Equal("+1.1 percentage points", ComparisonSentences.Moved(down, down with { PercentPerSeason = -2.3 }));
        Assert.Equal("direction and range", ComparisonSentences.Moved(down, down with { Upper = 0.4, Direction = Direction.Unclear }));
        Assert.Equal("range", ComparisonSentences.Moved(down, down with { Lower = -7.2 }));
        Assert.Equal("direction", ComparisonSentences.Moved(down, down with { Direction = Direction.Unclear }));
        Assert.Equal("rumbo y rango", LanguageTests.In("es", () => ComparisonSentences.Moved(down, down with { Upper = 0.4, Direction = Direction.Unclear })));
        Assert.Null(ComparisonSentences.Moved(down, down with { PercentPerSeason = -3.41, Lower = -6.61 }));
    }

    [Fact]
    public void Slope_without_a_range_is_not_shown_and_does_not_move()
    {
        var down = TrendSweep.Of(-6.6, -3.4, -0.1, Direction.Down);
        var few = down with { Interval = IntervalKind.FewClusters, Lower = null, Upper = null, Direction = Direction.Unclear };
        Assert.Null(ComparisonSentences.Moved(few, few with { PercentPerSeason = -9 }));
        Assert.Equal("has a range now", ComparisonSentences.Moved(few, down));
        Assert.Equal("has no range now", ComparisonSentences.Moved(down, few));
        Assert.Equal("direction", ComparisonSentences.Moved(few with { Status = TrendStatus.NeverHeard }, few));
    }

    private static IReadOnlyList<string> Causes(EditionCauses causes, SurveyDifference surveys) => ComparisonSentences.Causes(causes, surveys, 0, 0, 0);

    [Fact]
    public void Run_up_to_another_season_is_one_cause_with_its_surveys_and_new_surveys_are_another()
    {
        Assert.Equal(["The analysis was run on 173 more surveys, from 2026."], Causes(EditionCauses.NewRun, new SurveyDifference(173, 0, 0, 2026, 2026)));
        Assert.Equal(["The analysis was run on 1 survey fewer."], Causes(EditionCauses.NewRun, new SurveyDifference(0, 1, 0, null, null)));
        Assert.Equal(["The analysis was run in another way."], Causes(EditionCauses.NewRun, SurveyDifference.None));
        Assert.Equal(
            ["2 surveys were added, from 2025 to 2026.", "The analysis was run in another way."],
            Causes(EditionCauses.NewRun | EditionCauses.NewData, new SurveyDifference(2, 0, 0, 2025, 2026)));
        Assert.Equal(["1 survey was taken away."], Causes(EditionCauses.CorrectedData, new SurveyDifference(0, 1, 0, null, null)));
        Assert.Equal(
            ["El análisis se hizo con 1 muestreo más, de 2026."], LanguageTests.In("es", () => Causes(EditionCauses.NewRun, new SurveyDifference(1, 0, 0, 2026, 2026))));
    }
}
