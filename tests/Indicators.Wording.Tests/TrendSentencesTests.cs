using System.Text.RegularExpressions;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed partial class TrendSentencesTests
{
    private static TrendTopic Topic(Trend trend) => new(trend, "wood frog", "Marl Creek", TrendSweep.Options);

    private static string Plain(string? text) => (text ?? "").Replace('\u00A0', ' ');

    [Fact]
    public void Decline_reads_as_the_model_sentence() => Assert.Equal(
        "We have heard less and less wood frog calling in Marl Creek since 2012. Over these seasons, 2012 to 2026, that is about 4 % less each season. " +
        "We are quite sure of the direction (95 % range: 2 to 6 % less).",
        Plain(TrendSentences.Paragraph(Topic(TrendSweep.Of(-6.2, -4.1, -2.3, Direction.Down)))));

    [Fact]
    public void Slow_rise_says_slowly_and_small() => Assert.Equal(
        "We have heard wood frog calling in Marl Creek go up slowly since 2012. Over these seasons, 2012 to 2026, that is about 0.9 % more each season. " +
        "We are quite sure of the direction (95 % range: 0.2 to 1.8 % more). The change is small.",
        Plain(TrendSentences.Paragraph(Topic(TrendSweep.Of(0.2, 0.9, 1.8, Direction.Up, slowly: true)))));

    [Fact]
    public void Steady_says_how_small_small_is() => Assert.Equal(
        "We have heard wood frog calling in Marl Creek hold steady since 2012. Over these seasons, 2012 to 2026, that is about 0.3 % more each season. " +
        "We are quite sure that any change is small (95 % range: from 1.2 % less to 1.6 % more). Small means no more than 2 % each season.",
        Plain(TrendSentences.Paragraph(Topic(TrendSweep.Of(-1.2, 0.3, 1.6, Direction.Steady)))));

    [Fact]
    public void Unclear_says_what_is_missing_and_that_it_is_not_all_clear() => Assert.Equal(
        "We can't tell yet which way wood frog calling in Marl Creek has gone. " +
        "Our best guess is about 3 % less each season. The 95 % range is from 8 % less to 2 % more. " +
        "To tell, we need more seasons or more wetlands. That does not mean all is well.",
        Plain(TrendSentences.Paragraph(Topic(TrendSweep.Of(-8.2, -3.1, 2.4, Direction.Unclear)))));

    [Fact]
    public void Few_wetlands_say_how_many_there_are_and_need_to_be() => Assert.Equal(
        "To tell, we need 5 or more wetlands that heard it, with two seasons of listening. So far there are 3.",
        Plain(TrendSentences.HowSure(Topic(TrendSweep.Of(null, -7, null, Direction.Unclear) with
        {
            Interval = IntervalKind.FewClusters, Clusters = 3, InformativeClusters = 3,
        }))));

    [Fact]
    public void Settings_reach_the_sentence()
    {
        var options = new TrendOptions { Confidence = 0.9, MinimumClusters = 7, PracticalChangePercent = 1.5 };
        var few = TrendSweep.Of(null, null, null, Direction.Unclear) with { Interval = IntervalKind.FewClusters };
        Assert.Contains("7 or more wetlands", Plain(TrendSentences.HowSure(Topic(few) with { Options = options })), StringComparison.Ordinal);
        var steady = Plain(TrendSentences.HowSure(Topic(TrendSweep.Of(-1, 0, 1, Direction.Steady)) with { Options = options }));
        Assert.Contains("90 % range", steady, StringComparison.Ordinal);
        Assert.Contains("no more than 1.5 %", steady, StringComparison.Ordinal);
    }

    [Fact]
    public void Direction_words_are_those_of_the_result_and_limited_to_these_seasons_when_springs_are_not_allowed_for()
    {
        foreach (var topic in TrendSweep.All())
        {
            string text = TrendSentences.Answer(topic);
            bool down = DownWords().IsMatch(text), up = UpWords().IsMatch(text);
            bool steady = text.Contains("hold steady", StringComparison.Ordinal);
            Assert.Equal((topic.Trend.Direction == Direction.Down, topic.Trend.Direction == Direction.Up, topic.Trend.Direction == Direction.Steady), (down, up, steady));
            if (down || up || steady)
                Assert.Equal(topic.Trend.SeasonSd is null, text.Contains("over these seasons", StringComparison.OrdinalIgnoreCase));
            else
                Assert.Matches("can't tell yet|We have not heard|No one has listened", text);
            Assert.Equal(topic.Trend.Slowly, text.Contains("slowly", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Each_of_the_two_ranges_says_which_question_it_answers()
    {
        var topic = Topic(TrendSweep.Of(-5, -4, -3, Direction.Down) with { LowerUnderlying = -8, UpperUnderlying = -2.4, SeasonSd = 0.2 });
        Assert.Equal("We have heard less and less wood frog calling in Marl Creek since 2012. That is about 4 % less each season.", Plain(TrendSentences.Answer(topic)));
        Assert.Equal(
            "We are quite sure of the direction (95 % range: 2 to 8 % less). That allows for good and bad springs. " +
            "Over just these seasons the range is 3 to 5 % less.",
            Plain(TrendSentences.HowSure(topic)));
    }

    [Fact]
    public void Numbers_stand_with_their_range_or_not_at_all()
    {
        foreach (var topic in TrendSweep.All())
        {
            string text = Plain(TrendSentences.Answer(topic) + " " + TrendSentences.HowSure(topic));
            if (TrendSentences.HasInterval(topic.Trend))
                Assert.Contains("95 % range", text, StringComparison.Ordinal);
            else
                Assert.DoesNotContain("%", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Numbers_of_the_sentence_are_those_of_the_result()
    {
        int read = 0;
        foreach (var topic in TrendSweep.All())
        {
            if (!TrendSentences.HasInterval(topic.Trend) || topic.Trend.PercentPerSeason is not { } percent)
                continue;
            string text = Plain(TrendSentences.Answer(topic) + " " + TrendSentences.HowSure(topic));
            var match = EachSeason().Match(text);
            if (!match.Success)
            {
                Assert.Contains("almost no change each season", text, StringComparison.Ordinal);
                Assert.True(Math.Abs(percent) < 0.05);
                continue;
            }
            double said = double.Parse(match.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture) * (match.Groups[2].Value == "less" ? -1 : 1);
            Assert.Equal(percent, said, match.Groups[1].Value.Contains('.', StringComparison.Ordinal) ? 0.051 : 0.51);
            read++;
        }
        Assert.True(read > 100);
    }

    [Fact]
    public void Unclear_always_says_what_is_missing()
    {
        foreach (var topic in TrendSweep.All().Where(topic => topic.Trend.Direction == Direction.Unclear && topic.Trend.Status != TrendStatus.NeverHeard))
            Assert.Contains("To tell, we need", TrendSentences.HowSure(topic), StringComparison.Ordinal);
    }

    [Fact]
    public void Ceiling_is_told_from_ten_percent_on()
    {
        foreach (var topic in TrendSweep.All())
            Assert.Equal(topic.Trend.CeilingShare >= 0.10, TrendSentences.Ceiling(topic) is not null);
        string many = TrendSentences.Ceiling(Topic(TrendSweep.Of(-1, 0, 1, Direction.Unclear) with { CeilingShare = 0.62 }))!;
        Assert.Contains("we would not call it steady", many, StringComparison.Ordinal);
        string sure = TrendSentences.HowSure(Topic(TrendSweep.Of(-1, 0, 1, Direction.Unclear) with { CeilingShare = 0.62 }));
        Assert.Contains("a scale that goes on past the full chorus", sure, StringComparison.Ordinal);
    }

    [Fact]
    public void Sentences_are_whole_and_say_calling_not_counts()
    {
        foreach (var topic in TrendSweep.All())
        {
            string text = Plain(TrendSentences.Paragraph(topic) + " " + TrendSentences.Effort(topic));
            Assert.DoesNotMatch(@"(?<![\d.,])0(\.0)? %|[-−]\d|NaN|∞|  |\.\.| ,| \.", text);
            Assert.DoesNotMatch(@"\b1 (surveys|stations|wetlands|seasons)\b|(?<![\d,])(?!1 )\d+ (survey|station|wetland|season)\b", text);
            Assert.DoesNotMatch("(?i)population|number of frogs|how many frogs|abundan|signific", text);
            Assert.EndsWith(".", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Labels_carry_the_direction()
    {
        Assert.Equal("going down slowly", TrendSentences.Label(TrendSweep.Of(-1.5, -1, -0.5, Direction.Down, slowly: true)));
        Assert.Equal("going up", TrendSentences.Label(TrendSweep.Of(1, 3, 5, Direction.Up)));
        Assert.Equal("holding steady", TrendSentences.Label(TrendSweep.Of(-1, 0, 1, Direction.Steady)));
        Assert.Equal("can't tell yet", TrendSentences.Label(TrendSweep.Of(-9, 0, 9, Direction.Unclear)));
        Assert.Equal("not heard yet", TrendSentences.Label(TrendSweep.Of(null, null, null, Direction.Unclear) with { Status = TrendStatus.NeverHeard }));
    }

    [GeneratedRegex("less and less|go down")]
    private static partial Regex DownWords();

    [GeneratedRegex("more and more|go up")]
    private static partial Regex UpWords();

    [GeneratedRegex(@"about ([\d.]+) % (less|more) each season")]
    private static partial Regex EachSeason();
}
