using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>
/// A window or a response is the whole analysis of other surveys: of fewer seasons, or of other call levels. The slopes of
/// the whole are checked against R elsewhere.
/// </summary>
public class TrendVariantTests
{
    private const string Area = "990101010101";
    private static readonly ProgrammeData Chorus = Drawn(7, [Area], 12, 14, Frog("a"), Frog("b"), Frog("c"));

    private static IReadOnlyList<TrendVariant> Variants(ProgrammeData data, ProgrammeSettings? settings = null, int? from = null, int? to = null) =>
        [.. ProgrammeAnalysis.Prepare(data, settings ?? new ProgrammeSettings(), new RunOptions { Resamples = 400, WindowFrom = from, WindowTo = to })
            .Analyse(Code(Area), 1, TestContext.Current.CancellationToken).Variants.Where(v => v.Model == TrendModel.Raw)];

    private static ProgrammeData Seasons(int from, int to) => Chorus with { Surveys = [.. Chorus.Surveys.Where(s => s.Date.Year >= from && s.Date.Year <= to)] };

    private static ProgrammeData Levels(Func<int, int> of) => Chorus with
    {
        Surveys = [.. Chorus.Surveys.Select(s => s with { Calls = [.. s.Calls.Select(c => new Call(c.Species, Level(of(c.Level.Value))))] })],
    };

    private static void AssertSame(IEnumerable<TrendVariant> expected, IEnumerable<TrendVariant> actual)
    {
        foreach (var (one, other) in expected.Zip(actual, (e, a) => (e, a)))
        {
            Assert.Equal(one.PercentPerSeason!.Value, other.PercentPerSeason!.Value, 1e-9);
            Assert.Equal((one.FirstSeason, one.LastSeason, one.Clusters, one.Stations, one.Surveys), (other.FirstSeason, other.LastSeason, other.Clusters, other.Stations, other.Surveys));
            // The whole series is refitted to 1e-6 of its span, windows and other responses to 2e-3.
            Assert.Equal(one.Lower!.Value, other.Lower!.Value, 0.05);
            Assert.Equal(one.Upper!.Value, other.Upper!.Value, 0.05);
        }
        Assert.Equal(expected.Count(), actual.Count());
        Assert.NotEmpty(actual);
    }

    private static IEnumerable<TrendVariant> Whole(IEnumerable<TrendVariant> variants, ResponseKind response) =>
        variants.Where(v => v.Window == TrendWindow.Whole && v.Response == response);

    [Theory]
    [InlineData(TrendWindow.Last10, 2014, 2023)]
    [InlineData(TrendWindow.Last5, 2019, 2023)]
    [InlineData(TrendWindow.Asked, 2012, 2020)]
    public void Window_is_the_whole_of_its_seasons(TrendWindow window, int from, int to) =>
        AssertSame(
            Whole(Variants(Seasons(from, to)), ResponseKind.CallLevel),
            Variants(Chorus, from: 2012, to: 2020).Where(v => v.Window == window && v.Response == ResponseKind.CallLevel));

    [Fact]
    public void Heard_is_the_call_level_of_surveys_that_only_say_whether()
    {
        var whether = Levels(level => Math.Min(level, 1));
        AssertSame(Whole(Variants(whether), ResponseKind.CallLevel), Whole(Variants(Chorus), ResponseKind.Heard));
    }

    [Fact]
    public void Full_chorus_is_the_call_level_of_surveys_that_only_say_that() =>
        AssertSame(Whole(Variants(Levels(level => level == 3 ? 1 : 0)), ResponseKind.CallLevel), Whole(Variants(Chorus), ResponseKind.FullChorus));

    [Fact]
    public void Programmes_own_weights_rule_every_result()
    {
        var own = new ProgrammeSettings { Response = new ResponseOptions { Kind = ResponseKind.Weighted, Weights = [0, 0, 2] } };
        var weighted = Variants(Chorus, own);
        // Twice the count of full choruses has the slope of the count.
        AssertSame(Whole(Variants(Chorus), ResponseKind.FullChorus), Whole(weighted, ResponseKind.Weighted));
        AssertSame(Whole(weighted, ResponseKind.FullChorus), Whole(weighted, ResponseKind.Weighted));
        Assert.Equal([ResponseKind.CallLevel, ResponseKind.Heard, ResponseKind.FullChorus, ResponseKind.Weighted], weighted.Select(v => v.Response).Distinct().Order());
    }

    [Fact]
    public void Total_change_is_the_change_per_season_over_the_span()
    {
        foreach (var trend in Variants(Chorus))
        {
            double span = trend.LastSeason!.Value - trend.FirstSeason!.Value;
            Assert.Equal(100 * (Math.Pow(1 + trend.PercentPerSeason!.Value / 100, span) - 1), trend.TotalChangePercent!.Value, 1e-9);
            Assert.Equal(100 * (Math.Pow(1 + trend.LowerUnderlying!.Value / 100, span) - 1), trend.TotalLower!.Value, 1e-9);
            Assert.Equal(100 * (Math.Pow(1 + trend.UpperUnderlying!.Value / 100, span) - 1), trend.TotalUpper!.Value, 1e-9);
        }
    }

    [Fact]
    public void Probabilities_of_decline_agree_with_the_interval_of_the_total_change()
    {
        foreach (var trend in Variants(Chorus))
        {
            (double Limit, double Probability)[] declines =
            [
                (0, trend.ProbabilityOfDecline!.Value),
                (-30, trend.ProbabilityBelowMinus30!.Value),
                (-50, trend.ProbabilityBelowMinus50!.Value),
                (-80, trend.ProbabilityBelowMinus80!.Value),
            ];
            Assert.Equal(declines.OrderByDescending(d => d.Probability), declines);
            foreach (var (limit, probability) in declines)
            {
                if (trend.TotalUpper < limit) Assert.InRange(probability, 0.97, 1);
                else if (trend.TotalLower > limit) Assert.InRange(probability, 0, 0.03);
                else Assert.InRange(probability, 0.02, 0.98);
            }
        }
    }

    [Fact]
    public void Window_as_long_as_the_series_is_not_told_twice() =>
        Assert.Equal([TrendWindow.Last5, TrendWindow.Whole], Variants(Seasons(2014, 2023)).Where(v => v.Response == ResponseKind.CallLevel).Select(v => v.Window).Distinct().Order().Reverse());
}
