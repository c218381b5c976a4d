using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public class ProgrammeAnalysisTests
{
    private static readonly string[] Codes = ["990101010101", "990101010102", "990101010201"];

    private static ProgrammeData Chorus(uint key = 1) => Drawn(key, Codes, 9, 12, Frog("a", "2"), Frog("b", "4"), Frog("c", "8"), Frog("d", "5"));

    private static AreaResult Analyse(ProgrammeData data, string area, int threads = 1, int resamples = 200, ProgrammeSettings? settings = null, ulong seed = 1) =>
        ProgrammeAnalysis.Prepare(data, settings ?? new ProgrammeSettings(), new RunOptions { Resamples = resamples, Seed = seed })
            .Analyse(Code(area), threads, TestContext.Current.CancellationToken);

    [Fact]
    public void Areas_are_every_level_the_codes_imply_largest_first()
    {
        var analysis = ProgrammeAnalysis.Prepare(Chorus(), new ProgrammeSettings(), new RunOptions { Resamples = 10 });
        Assert.Equal(
            ["99", "9901", "990101", "99010101", "9901010101", "9901010102", "990101010101", "990101010102", "990101010201"],
            analysis.Areas.Select(a => a.ToString()).Order(StringComparer.Ordinal).OrderBy(a => a.Length));
        Assert.Equal("99", analysis.Areas[0].ToString());
        Assert.Equal(27, analysis.Counts.Stations);
    }

    [Fact]
    public void Same_listening_gives_the_same_answer_at_every_level()
    {
        var analysis = ProgrammeAnalysis.Prepare(Chorus(), new ProgrammeSettings(), new RunOptions { Resamples = 100 });
        var outer = analysis.Analyse(Code("9901010102"), 1, TestContext.Current.CancellationToken);
        var inner = analysis.Analyse(Code("990101010201"), 1, TestContext.Current.CancellationToken);
        Assert.Equal(inner.Trends.Select(t => t with { Area = outer.Area.Code }), outer.Trends);
    }

    [Fact]
    public void Threads_change_nothing_and_two_of_them_work()
    {
        ProgrammeAnalysis Prepared() => ProgrammeAnalysis.Prepare(Chorus(), new ProgrammeSettings(), new RunOptions { Resamples = 400 });
        ProgrammeAnalysis one = Prepared(), two = Prepared();
        foreach (var area in one.Areas)
            Assert.Equal(JsonSerializer.Serialize(one.Analyse(area, 1, TestContext.Current.CancellationToken)), JsonSerializer.Serialize(two.Analyse(area, 2, TestContext.Current.CancellationToken)));
        Assert.Equal((1, Math.Min(2, Environment.ProcessorCount)), (one.ThreadsUsed, two.ThreadsUsed));
    }

    [Fact]
    public void Calling_that_never_changes_carries_no_word_from_rounding()
    {
        // Every station hears the same level at every visit of its own: all slopes are exactly no change.
        var stations = Enumerable.Range(0, 14).Select(w => Pond($"s{w:00}", $"w{w:00}", "99")).ToList();
        var surveys = from w in Enumerable.Range(0, 14)
                      from t in Enumerable.Range(0, 8)
                      from visit in Enumerable.Range(0, 3)
                      select Listen($"{w}-{t}-{visit}", $"s{w:00}", new LocalDate(2010 + t, 4 + visit, 20), ("a", 1 + (w + visit) % 3));
        var trend = Analyse(Data(stations, [Frog("a")], surveys), "99").Trends[0];
        Assert.Equal((Direction.Steady, 0.0), (trend.Direction, Math.Round(trend.PercentPerSeason!.Value, 9)));
    }

    [Fact]
    public void Seed_moves_intervals_and_leaves_estimates()
    {
        var first = Analyse(Chorus(), "99").Trends[0];
        var other = Analyse(Chorus(), "99", seed: 2).Trends[0];
        Assert.Equal(first.PercentPerSeason, other.PercentPerSeason);
        Assert.NotEqual(first.Lower, other.Lower);
    }

    [Fact]
    public void Order_of_surveys_and_areas_changes_nothing()
    {
        var data = Chorus();
        var shuffled = data with { Surveys = [.. data.Surveys.Reverse()], Stations = [.. data.Stations.Reverse()], Species = [.. data.Species.Reverse()] };
        Assert.Equal(JsonSerializer.Serialize(Analyse(data, "99")), JsonSerializer.Serialize(Analyse(shuffled, "99")));
    }

    [Fact]
    public void Score_lines_add_up_to_the_score_and_its_change_without_a_remainder()
    {
        int scored = 0, changed = 0;
        for (uint key = 1; key <= 5; key++)
        {
            Condition? before = null;
            foreach (var condition in Analyse(Chorus(key), "99").Conditions)
            {
                if (condition.Score is { } score)
                {
                    scored++;
                    Assert.Equal(score - 100, condition.Lines.Sum(l => l.Points), 1e-9);
                    Assert.Equal(
                        score,
                        0.3 * condition.PresencePart!.Value + 0.2 * condition.SensitivityPart!.Value
                            + 0.3 * condition.CallingPart!.Value + 0.2 * condition.DirectionPart!.Value,
                        1e-9);
                    Assert.InRange(score, condition.Lower!.Value - 5, condition.Upper!.Value + 5);
                    Assert.Equal(1, condition.ProbabilityGood!.Value + condition.ProbabilityFair!.Value + condition.ProbabilityPoor!.Value, 1e-12);
                    if (before?.Score is { } earlier)
                    {
                        changed++;
                        Assert.Equal(score - earlier, condition.Lines.Sum(l => l.Change!.Value), 1e-9);
                    }
                }
                before = condition;
            }
        }
        Assert.True(scored > 30 && changed > 20, $"{scored} scores and {changed} changes");
    }

    [Fact]
    public void Score_waits_for_the_third_season_and_for_slopes()
    {
        var conditions = Analyse(Chorus(), "99").Conditions;
        Assert.Equal(12, conditions.Count);
        Assert.All(conditions.Take(2), c => Assert.True(c.Lacks.HasFlag(ScoreLack.EarlySeason) && c.Score is null));
        Assert.True(conditions[3].Lacks.HasFlag(ScoreLack.NoSlopes));
        Assert.All(conditions.Skip(4), c => Assert.Equal(ScoreLack.None, c.Lacks));
    }

    [Fact]
    public void Score_of_a_past_season_uses_slopes_up_to_that_season_only()
    {
        var data = Chorus();
        double Through(int last) =>
            Analyse(data with { Surveys = [.. data.Surveys.Where(s => s.Date.Year <= last)] }, "99").Conditions.Single(c => c.Season == 2018).DirectionPart!.Value;
        var conditions = Analyse(data, "99").Conditions;
        double whole = conditions.Single(c => c.Season == 2018).DirectionPart!.Value;
        // What resampling makes of residuals is reckoned by the jackknife for past seasons, by 200 resamples for the last: the springs come out a little different.
        Assert.Equal(Through(2018), whole, 1.0);
        // Slopes of past seasons are refitted to a hundredth of their spread: one draw in 200 of one species in four may flip.
        Assert.Equal(Through(2019), whole, 0.125 + 1e-9);
        Assert.True(Math.Abs(conditions[^1].DirectionPart!.Value - whole) > 1.5);
    }

    [Fact]
    public void Expected_list_comes_from_the_enclosing_eight_digit_watershed()
    {
        // 'rare' is heard in one 12-digit watershed in two seasons: expected in its neighbour too, and missing there.
        var data = Drawn(3, Codes, 6, 8, Frog("a"), Frog("b"), Frog("c"));
        Survey[] more = [Listen("r1", Codes[0] + "-00", new LocalDate(2011, 5, 5), ("rare", 1)), Listen("r2", Codes[0] + "-00", new LocalDate(2014, 5, 5), ("rare", 2))];
        data = data with { Species = [.. data.Species, Frog("rare", "9")], Surveys = [.. data.Surveys, .. more] };
        var neighbour = Analyse(data, Codes[1]);
        Assert.Contains(SpeciesId("rare"), neighbour.Area.Expected);
        Assert.False(neighbour.Area.ExpectedIsGiven);
        Assert.True(neighbour.Conditions[^1].PresencePart <= 75 + 1e-9);

        var given = data with { Expected = [new ExpectedSpecies(Code("9901"), SpeciesId("a"), null), new ExpectedSpecies(Code("9901"), SpeciesId("b"), null), new ExpectedSpecies(Code("9901"), SpeciesId("c"), null)] };
        Assert.Equal(3, Analyse(given, Codes[1]).Area.Expected.Count);
        Assert.True(Analyse(given, Codes[1]).Area.ExpectedIsGiven);
    }

    [Fact]
    public void Counts_rest_on_stations_that_heard_the_species()
    {
        var data = Drawn(4, Codes, 9, 10, Frog("a"), Frog("b"));
        var heard = data.Surveys.Where(s => s.Calls.Any(c => c.Species == SpeciesId("b"))).Select(s => s.Station).ToHashSet();
        var trend = Analyse(data, "99").Trends.Single(t => t.Species == SpeciesId("b"));
        Assert.Equal(heard.Count, trend.Stations);
        Assert.Equal(heard.Count, trend.Clusters);
        Assert.Equal(data.Surveys.Count(s => heard.Contains(s.Station)), trend.Surveys);
        Assert.Equal(data.Stations.Count - heard.Count, trend.SilentStations);
    }

    [Fact]
    public void Interval_needs_five_wetlands_that_heard_the_species()
    {
        var seen = new HashSet<int>();
        for (int wetlands = 4; wetlands <= 7; wetlands++)
        {
            var data = Drawn(6, ["9901"], wetlands, 9, Frog("a"), Frog("b"));
            int heard = data.Surveys.Where(s => s.Calls.Any(c => c.Species == SpeciesId("b"))).Select(s => s.Station).Distinct().Count();
            seen.Add(heard);
            Assert.Equal(
                heard < 5 ? IntervalKind.FewClusters : IntervalKind.ObservedChange,
                Analyse(data, "99").Trends.Single(t => t.Species == SpeciesId("b")).Interval);
        }
        Assert.Contains(4, seen);
        Assert.Contains(5, seen);
    }

    [Fact]
    public void Interval_needs_five_seasons()
    {
        var data = Drawn(6, ["9901"], 12, 4, Frog("a"), Frog("b"));
        var trend = Analyse(data, "99").Trends.Single(t => t.Species == SpeciesId("b"));
        Assert.Equal((IntervalKind.FewSeasons, Direction.Unclear), (trend.Interval, trend.Direction));
        Assert.NotNull(trend.PercentPerSeason);
    }

    [Fact]
    public void Single_wetland_resamples_its_stations()
    {
        var data = Drawn(7, ["9901"], 9, 9, Frog("a"), Frog("b"));
        data = data with { Stations = [.. data.Stations.Select(s => s with { Wetland = Id<Wetland>.Parse("the-marsh").Value })] };
        var trend = Analyse(data, "99").Trends.Single(t => t.Species == SpeciesId("b"));
        Assert.Equal((IntervalKind.ObservedChangeStations, 1), (trend.Interval, trend.Clusters));
    }

    [Fact]
    public void Silent_programme_is_an_answer()
    {
        var data = Data([Pond("s", "w", "99")], [Frog("a")], [Listen("1", "s", new LocalDate(2020, 5, 1)), Listen("2", "s", new LocalDate(2021, 5, 1))]);
        var result = Analyse(data, "99");
        Assert.Equal(TrendStatus.NeverHeard, result.Trends[0].Status);
        Assert.Empty(result.Indices);
        Assert.All(result.Conditions, c => Assert.Null(c.Score));
    }

    [Fact]
    public void Programme_without_surveys_has_no_areas() =>
        Assert.Empty(ProgrammeAnalysis.Prepare(Data([Pond("s", "w", "99")], [Frog("a")], []), new ProgrammeSettings(), new RunOptions()).Areas);

    [Fact]
    public void All_calls_at_one_station_in_its_first_season_fall_without_bound()
    {
        var data = Data([Pond("s", "w", "99"), Pond("r", "v", "99")], [Frog("a")],
        [
            Listen("1", "s", new LocalDate(2020, 5, 1), ("a", 2)), Listen("2", "s", new LocalDate(2021, 5, 1)),
            Listen("3", "r", new LocalDate(2020, 5, 1)), Listen("4", "r", new LocalDate(2021, 5, 1)),
        ]);
        var trend = Analyse(data, "99").Trends[0];
        Assert.Equal((TrendStatus.OnlyInFirstSeasons, null, 1), (trend.Status, trend.PercentPerSeason, trend.SilentStations));
    }
}
