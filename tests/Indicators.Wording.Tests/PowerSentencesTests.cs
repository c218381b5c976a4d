using Indicators.Analysis.Power;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class PowerSentencesTests
{
    private static readonly PowerQuestion Question = new() { PercentPerSeason = -3 };

    private static PowerResult Result(int wetlands, double right) => new(new ListeningPlan(wetlands, 12, 3), 500, right, 0, right, right);

    [Fact]
    public void Answer_names_the_plan_with_the_fewest_surveys_that_is_enough()
    {
        string said = PowerSentences.Answer(Question, [Result(10, 0.4), Result(40, 0.95), Result(20, 0.82)]);

        Assert.Equal(
            "Of the plans asked about, the one with the fewest surveys that would show a change of -3 % each season at least 80 % of the time is 20 wetlands, 12 seasons and 3 surveys a wetland each season: the right word in 82 % of 500 simulated programmes, give or take 3 %.",
            said.Replace('\u00A0', ' '));
    }

    [Fact]
    public void Answer_says_how_near_the_best_plan_comes_when_none_is_enough()
    {
        string said = PowerSentences.Answer(Question with { PercentPerSeason = 1.5 }, [Result(10, 0.1), Result(40, 0.3)]);

        Assert.Equal(
            "None of the plans asked about would show a change of +1.5 % each season 80 % of the time. The nearest is 40 wetlands, 12 seasons and 3 surveys a wetland each season: the right word in 30 % of 500 simulated programmes, give or take 4 %.",
            said.Replace('\u00A0', ' '));
    }

    [Fact]
    public void Full_choruses_are_warned_of_where_they_are_common()
    {
        var basis = new SpreadBasis(12, 12, 288, 2010, 2021, 2);

        Assert.Null(PowerSentences.Ceiling(basis));
        Assert.StartsWith("40 % of these surveys heard a full chorus", PowerSentences.Ceiling(basis with { CeilingShare = 0.4 })!.Replace('\u00A0', ' '), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_problem_has_its_sentence()
    {
        string[] said = [.. Enum.GetValues<PowerProblem>().Select(problem => PowerSentences.Of(problem, "wood", "99", ["peeper", "wood"]))];

        Assert.Equal(said.Length, said.Distinct().Count());
        Assert.Equal("There are no accepted surveys yet. Import a folder of surveys first.", PowerSentences.Of(PowerProblem.UnknownWatershed, "wood", null, ["wood"]));
        Assert.All(said, sentence => Assert.EndsWith(".", sentence, StringComparison.Ordinal));
        Assert.Contains("Import a folder", PowerSentences.Of(PowerProblem.UnknownSpecies, "wood", null, []), StringComparison.Ordinal);
    }
}
