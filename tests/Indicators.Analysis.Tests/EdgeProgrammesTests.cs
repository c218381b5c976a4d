using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Resampling;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>
/// Programmes at the edges, whole: every area and what areas say together. Every table can be written as JSON, which has no
/// word for NaN or infinity, and what cannot be answered says why.
/// </summary>
public class EdgeProgrammesTests
{
    private static readonly Species[] Frogs = [Frog("a", "2"), Frog("b", "8", window: new CallingWindow(new AnnualDate(6, 1), new AnnualDate(7, 31)))];

    public static TheoryData<string> Names => new(Edges.Keys);

    private static readonly Dictionary<string, Func<ProgrammeData>> Edges = new()
    {
        ["one survey"] = () => Data([Pond("s", "w", "99")], Frogs, [Listen("1", "s", new LocalDate(2020, 6, 10), ("a", 1), ("b", 3))]),
        ["one wetland, one station"] = () => Programme(1, 12, Drawn),
        ["one season"] = () => Programme(12, 1, Drawn),
        ["two seasons"] = () => Programme(12, 2, Drawn),
        ["all silent"] = () => Programme(8, 9, (_, _, _) => 0),
        ["all at the ceiling"] = () => Programme(8, 9, (_, _, _) => 3),
        ["only in the first season"] = () => Programme(8, 9, (_, t, _) => t == 0 ? 2 : 0),
        ["only in the last season"] = () => Programme(8, 9, (_, t, _) => t == 8 ? 2 : 0),
        ["silent baseline"] = () => Programme(8, 9, (w, t, v) => t < 3 ? 0 : Drawn(w, t, v)),
        ["one silent season between"] = () => Programme(8, 9, (w, t, v) => t == 4 ? 0 : Drawn(w, t, v)),
        ["five wetlands exactly"] = () => Programme(5, 9, Drawn),
        ["five seasons exactly"] = () => Programme(8, 5, Drawn),
        ["seasons with long gaps"] = () => Programme(8, 7, Drawn, t => 1990 + (t < 3 ? t : 4 * t)),
        ["no two wetlands in one season"] = () => Programme(8, 9, (w, t, v) => t / 4 == w % 2 ? Drawn(w, t, v) : 0, silent: (w, t) => t / 4 != w % 2),
        ["one wetland calls, the others never"] = () => Programme(8, 9, (w, t, v) => w == 0 ? Drawn(w, t, v) : 0),
        ["each wetland heard once, all other years silent"] = () => Programme(9, 9, (w, t, v) => w == t && v == 0 ? 1 : 0),
    };

    private static int Drawn(int wetland, int season, int visit) => (7 * wetland + 5 * season + 3 * visit + wetland * season * (visit + 1)) % 11 % 4;

    /// <summary>Wetlands of one station, three visits a season in April, June and July; both species call alike, where they are listened for.</summary>
    private static ProgrammeData Programme(int wetlands, int seasons, Func<int, int, int, int> level, Func<int, int>? year = null, Func<int, int, bool>? silent = null)
    {
        var surveys = from w in Enumerable.Range(0, wetlands)
                      from t in Enumerable.Range(0, seasons)
                      where silent?.Invoke(w, t) != true
                      from v in Enumerable.Range(0, 3)
                      let heard = level(w, t, v)
                      select Listen(
                          $"{w}-{t}-{v}", $"s{w:00}", new LocalDate(year?.Invoke(t) ?? 2010 + t, v == 0 ? 4 : 5 + v, 20),
                          heard == 0 ? [] : v == 0 ? [("a", heard)] : [("a", heard), ("b", heard)]);
        return Data(Enumerable.Range(0, wetlands).Select(w => Pond($"s{w:00}", $"w{w:00}", w % 2 == 0 ? "990101" : "990102")), Frogs, surveys);
    }

    private static (AreaResult[] Areas, ProgrammeResult Together) Analyse(ProgrammeData data)
    {
        var run = new RunOptions { Resamples = 100, WindowFrom = 2012, WindowTo = 2015 };
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), run);
        AreaResult[] areas = [.. analysis.Areas.Select(area => analysis.Analyse(area, 2, TestContext.Current.CancellationToken))];
        return (areas, analysis.Together(areas, 2));
    }

    private static AreaResult Whole(string name) => Analyse(Edges[name]()).Areas[0];

    private static Trend TrendOf(string name) => Whole(name).Trends.Single(t => t.Species == SpeciesId("a"));

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_number_is_a_number_or_missing_with_a_reason(string name)
    {
        var (areas, together) = Analyse(Edges[name]());
        string text = JsonSerializer.Serialize(areas) + JsonSerializer.Serialize(together);
        Assert.NotEmpty(text);
        foreach (var area in areas)
        {
            Assert.Equal(2, area.Trends.Count);
            Assert.All(area.Trends, t =>
            {
                Assert.Equal(t.Status == TrendStatus.Estimated, t.PercentPerSeason is not null);
                Assert.Equal(t.Status != TrendStatus.Estimated, t.Interval == IntervalKind.NoEstimate);
                bool promised = t.Interval is IntervalKind.ObservedChange or IntervalKind.ObservedChangeStations;
                Assert.True(promised || t is { Lower: null, Upper: null, LowerUnderlying: null, UpperUnderlying: null, SeasonSd: null, Direction: Direction.Unclear });
            });
            Assert.All(area.Indices, i => Assert.True(i.Index is null or >= 0));
            Assert.All(area.Conditions, c => Assert.Equal(c.Lacks == ScoreLack.None, c.Score is not null));
            Assert.All(area.Occupancy, o => Assert.Equal(
                o.Basis is OccupancyBasis.ManySeasons or OccupancyBasis.ManySeasonsBoundary or OccupancyBasis.OneOccupancy, o.Psi is not null));
            Assert.Equal(area.Trends.Count, area.Evidence.Count);
        }
    }

    [Theory]
    [InlineData("one survey", TrendStatus.OneSeason)]
    [InlineData("one season", TrendStatus.OneSeason)]
    [InlineData("all silent", TrendStatus.NeverHeard)]
    [InlineData("only in the first season", TrendStatus.OnlyInFirstSeasons)]
    [InlineData("only in the last season", TrendStatus.OnlyInLastSeasons)]
    public void What_has_no_trend_says_why(string name, TrendStatus why) => Assert.Equal(why, TrendOf(name).Status);

    [Theory]
    [InlineData("one wetland, one station", IntervalKind.FewClusters)]
    [InlineData("two seasons", IntervalKind.FewSeasons)]
    [InlineData("five wetlands exactly", IntervalKind.ObservedChange)]
    [InlineData("five seasons exactly", IntervalKind.ObservedChange)]
    [InlineData("seasons with long gaps", IntervalKind.ObservedChange)]
    [InlineData("one wetland calls, the others never", IntervalKind.FewClusters)]
    public void What_has_no_interval_says_why(string name, IntervalKind why) => Assert.Equal(why, TrendOf(name).Interval);

    [Fact]
    public void Ceiling_everywhere_is_no_change_and_is_not_called_steady()
    {
        var trend = TrendOf("all at the ceiling");
        Assert.Equal((0.0, 1.0, Direction.Unclear), (Math.Round(trend.PercentPerSeason!.Value, 9), trend.CeilingShare, trend.Direction));
    }

    [Fact]
    public void Only_in_the_first_season_the_index_falls_to_nought_and_stays()
    {
        var index = Whole("only in the first season").Indices.Where(i => i.Species == SpeciesId("a")).ToArray();
        // One of three baseline seasons has all the calling, so it stands at three times their mean.
        Assert.Equal(300, index[0].Index!.Value, 1e-9);
        Assert.All(index[1..], i => Assert.Equal(0, i.Index));
    }

    [Fact]
    public void Silent_baseline_leaves_a_trend_and_no_index()
    {
        var whole = Whole("silent baseline");
        Assert.All(whole.Indices, i => Assert.Null(i.Index));
        Assert.All(whole.Trends, t => Assert.NotNull(t.PercentPerSeason));
    }

    [Fact]
    public void Silent_baseline_has_no_smooth_course_either()
    {
        Assert.NotEmpty(Whole("one silent season between").Smooth);
        var whole = Whole("silent baseline");
        Assert.Empty(whole.Smooth);
        Assert.Empty(whole.Changes);
    }

    /// <summary>
    /// The last year's June, when a was listened for too, is there or not: the score of the year before rests on earlier surveys alone. All three species call
    /// alike, so that what wetlands drawn anew account for in one accounts for it between them too.
    /// </summary>
    [Fact]
    public void Series_that_ended_a_season_ago_leaves_the_score_of_the_season_before_as_it_was()
    {
        Species[] frogs = [Frog("a", window: new CallingWindow(new AnnualDate(4, 1), new AnnualDate(6, 30))), Frog("b"), Frog("c")];
        Condition Before(bool june)
        {
            const int Seasons = 11;
            var surveys = from w in Enumerable.Range(0, 8)
                          from t in Enumerable.Range(0, Seasons)
                          from v in Enumerable.Range(0, 3)
                          where june || t < Seasons - 1 || v == 2
                          let level = (int)(Philox.Block((uint)w, (uint)t, 0, 0, 3, 1).W0 % 4)
                          select Listen(
                              $"{w}-{t}-{v}", $"s{w}", new LocalDate(2010 + t, t == Seasons - 1 && v == 2 ? 7 : 6, 20),
                              level == 0 ? [] : t == Seasons - 1 && v == 2 ? [("b", level), ("c", level)] : [("a", level), ("b", level), ("c", level)]);
            var data = Data(Enumerable.Range(0, 8).Select(w => Pond($"s{w}", $"w{w}", "990101")), frogs, surveys);
            var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 1000 });
            return analysis.Analyse(Code("990101"), 2, TestContext.Current.CancellationToken).Conditions.Single(c => c.Season == 2019);
        }
        var (with, without) = (Before(june: true), Before(june: false));
        // But for the resampled slopes' own tolerance.
        Assert.Equal(with.DirectionPart!.Value, without.DirectionPart!.Value, 0.1);
        Assert.Equal(with.Lower!.Value, without.Lower!.Value, 0.1);
    }

    [Fact]
    public void Wetlands_that_never_heard_it_do_not_move_the_jackknife()
    {
        Trend Of(int silent) => Analyse(Programme(8 + silent, 9, (w, t, v) => w < 8 ? Drawn(w, t, v) : 0)).Areas[0].Trends.Single(t => t.Species == SpeciesId("a"));
        var (alone, among) = (Of(0), Of(12));
        Assert.Equal(alone.JackknifeLower!.Value, among.JackknifeLower!.Value, 1e-9);
        Assert.Equal(alone.JackknifeUpper!.Value, among.JackknifeUpper!.Value, 1e-9);
    }

    [Fact]
    public void Season_of_silence_is_an_index_of_nought_whose_upper_end_is_by_the_rule_of_three()
    {
        // All eight wetlands were heard in every baseline season, and listened at in this one: -ln 0.05 / 8 (Hanley and Lippman-Hand 1983).
        var season = Whole("one silent season between").Indices.Single(i => i.Season == 2014 && i.Species == SpeciesId("a"));
        Assert.Equal((0.0, 0.0), (season.Index, season.Lower));
        Assert.Equal(-100 * Math.Log(0.05) / 8, season.Upper!.Value, 1e-9);
    }

    [Fact]
    public void Gap_in_the_years_counts_in_the_total_change()
    {
        var whole = Whole("seasons with long gaps").Variants.First(v => v is { Window: TrendWindow.Whole, Model: TrendModel.Raw });
        Assert.Equal((1990, 2014), (whole.FirstSeason, whole.LastSeason));
        Assert.Equal(100 * (Math.Pow(1 + whole.PercentPerSeason!.Value / 100, 24) - 1), whole.TotalChangePercent!.Value, 1e-8);
    }

    /// <summary>A station surveyed in one season only cannot be compared with itself: seasons that only such stations have say nothing of a trend.</summary>
    [Fact]
    public void Seasons_that_tell_nothing_do_not_count_towards_those_a_range_needs()
    {
        ProgrammeData Visited(int seasonsOfAll) => Data(
            Enumerable.Range(0, 12).Select(w => Pond($"s{w:00}", $"w{w:00}", "990101")),
            Frogs,
            from w in Enumerable.Range(0, 12)
            from t in Enumerable.Range(0, 6)
            where w < 6 ? t < seasonsOfAll : t == w % 6
            from v in Enumerable.Range(0, 3)
            let heard = 1 + Drawn(w, t, v) % 3
            select Listen($"{w}-{t}-{v}", $"s{w:00}", new LocalDate(2010 + t, v == 0 ? 4 : 5 + v, 20), [("a", heard)]));

        var few = Analyse(Visited(2)).Areas[0].Trends[0];
        Assert.Equal((IntervalKind.FewSeasons, 2010, 2015), (few.Interval, few.FirstSeason, few.LastSeason));
        Assert.Null(few.Lower ?? few.LowerUnderlying);
        Assert.NotNull(Analyse(Visited(5)).Areas[0].Trends[0].LowerUnderlying);
    }
}
