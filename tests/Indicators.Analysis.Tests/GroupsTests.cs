using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public class GroupsTests
{
    private static readonly CallingWindow Early = new(new AnnualDate(4, 1), new AnnualDate(6, 25)), Summer = new(new AnnualDate(4, 1), new AnnualDate(8, 31));

    /// <summary>Two early species, of which one particular, three summer ones, of which one particular.</summary>
    private static readonly Species[] Chorus =
        [Frog("a", "2", window: Early), Frog("b", "8", window: Early), Frog("c", "7", window: Summer), Frog("d", "3", window: Summer), Frog("e", "1", window: Summer)];

    private static AreaResult Analyse(ProgrammeData data, ProgrammeSettings? settings = null) =>
        ProgrammeAnalysis.Prepare(data, settings ?? new ProgrammeSettings(), new RunOptions { Resamples = 100 })
            .Analyse(Code("99"), 1, TestContext.Current.CancellationToken);

    private static ProgrammeData Only(ProgrammeData data, params string[] species) => data with
    {
        Species = [.. data.Species.Where(s => species.Contains(s.Id.ToString()))],
        Surveys = [.. data.Surveys.Select(s => s with { Calls = [.. s.Calls.Where(c => species.Contains(c.Species.ToString()))] })],
    };

    [Theory]
    [InlineData("03-20", "05-10", SpeciesGroup.EarlySeason)]
    [InlineData("05-15", "06-16", SpeciesGroup.EarlySeason)]
    [InlineData("05-15", "06-18", SpeciesGroup.Summer)]
    [InlineData("05-15", "08-10", SpeciesGroup.Summer)]
    [InlineData("12-01", "02-15", SpeciesGroup.EarlySeason)]
    [InlineData("09-15", "11-30", SpeciesGroup.EarlySeason)]
    [InlineData("08-01", "10-15", SpeciesGroup.Summer)]
    public void Group_follows_from_the_middle_of_the_window(string first, string last, SpeciesGroup expected)
    {
        var window = new CallingWindow(CallingWindow.ParseDay(first).Value, CallingWindow.ParseDay(last).Value);
        Species[] species = [Frog("x", window: window), Frog("y", window: window)];
        var groups = SpeciesGroups.Of(species, [0, 1], new GroupOptions()).Select(g => g.Group).ToArray();
        Assert.Equal([SpeciesGroup.All, expected], groups);
    }

    [Fact]
    public void Between_the_two_limits_a_species_is_in_neither_group()
    {
        Species[] species = [Frog("x", window: Early), Frog("y", window: Early)];
        var options = new GroupOptions { EarlyMiddleThrough = new AnnualDate(5, 1), SummerMiddleFrom = new AnnualDate(7, 1) };
        Assert.Equal([SpeciesGroup.All], SpeciesGroups.Of(species, [0, 1], options).Select(g => g.Group));
    }

    [Fact]
    public void Groups_of_fewer_than_two_species_are_left_out_and_ordered_by_code()
    {
        var result = Analyse(Drawn(3, ["99"], 9, 10, Chorus));
        string[] groups = [.. result.Group.Select(p => ResultCode.Of(p.Group)).Distinct()];
        Assert.Equal(["all", "early_season", "high_conservatism", "summer"], groups);
        Assert.Equal(groups.Order(StringComparer.Ordinal), groups);
        var fewer = Analyse(Drawn(3, ["99"], 9, 10, Chorus[1..]));
        Assert.Equal([SpeciesGroup.All, SpeciesGroup.HighConservatism, SpeciesGroup.Summer], fewer.Group.Select(p => p.Group).Distinct());
        Assert.Equal([SpeciesGroup.All, SpeciesGroup.HighConservatism, SpeciesGroup.Summer], fewer.GroupTrends.Select(t => t.Group));
    }

    [Fact]
    public void One_species_with_an_index_is_no_group()
    {
        var data = Drawn(3, ["99"], 9, 10, Chorus);
        // Of the two particular ones, c is never heard; of the early ones both are.
        var result = Analyse(data with { Surveys = [.. data.Surveys.Select(s => s with { Calls = [.. s.Calls.Where(c => c.Species.ToString() != "c")] })] });

        Assert.Equal([SpeciesGroup.All, SpeciesGroup.EarlySeason, SpeciesGroup.Summer], result.Group.Select(p => p.Group).Distinct());
        Assert.All(result.Group, point => Assert.True(point.Species >= 2));
        var particular = Assert.Single(result.GroupTrends, t => t.Group == SpeciesGroup.HighConservatism);
        Assert.Equal((1, null), (particular.Species, particular.PercentPerSeason));
    }

    [Fact]
    public void Group_of_some_species_is_all_of_a_programme_that_has_only_those()
    {
        var data = Drawn(4, ["99"], 9, 12, Chorus);
        var whole = Analyse(data);
        foreach (var (group, members) in new[] { (SpeciesGroup.EarlySeason, "ab"), (SpeciesGroup.HighConservatism, "bc"), (SpeciesGroup.Summer, "cde") })
        {
            var alone = Analyse(Only(data, [.. members.Select(c => c.ToString())]));
            var points = whole.Group.Where(p => p.Group == group).ToArray();
            Assert.NotEmpty(points);
            Assert.Equal(alone.Group.Where(p => p.Group == SpeciesGroup.All).Select(p => p with { Group = group }), points);
            Assert.Contains(points, p => p.Lower is not null);
        }
    }

    [Fact]
    public void Group_trend_is_the_mean_of_its_species_slopes_inside_both_its_intervals()
    {
        var result = Analyse(Drawn(4, ["99"], 9, 12, Chorus));
        var summer = result.GroupTrends.Single(t => t.Group == SpeciesGroup.Summer);
        double mean = result.Trends.Where(t => "cde".Contains(t.Species.ToString(), StringComparison.Ordinal)).Average(t => Math.Log(1 + t.PercentPerSeason!.Value / 100));
        Assert.Equal(3, summer.Species);
        Assert.Equal(100 * (Math.Exp(mean) - 1), summer.PercentPerSeason!.Value, 1e-9);
        Assert.InRange(summer.PercentPerSeason.Value, summer.LowerUnderlying!.Value, summer.UpperUnderlying!.Value);
        Assert.InRange(summer.PercentPerSeason.Value, summer.TwoWayLower!.Value, summer.TwoWayUpper!.Value);
        // Species drawn apart: the mean of three is known better than one of them.
        Assert.True(summer.UpperUnderlying - summer.LowerUnderlying < result.Trends[2].UpperUnderlying - result.Trends[2].LowerUnderlying);
    }

    [Fact]
    public void Too_few_wetlands_leave_a_group_without_a_trend()
    {
        var trend = Analyse(Drawn(4, ["99"], 4, 12, Chorus)).GroupTrends[0];
        Assert.Equal((0, null, Direction.Unclear), (trend.Species, trend.PercentPerSeason, trend.Direction));
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(1)]
    [InlineData(5)]
    public void One_vanished_species_in_ten_costs_what_the_floor_says(double floor)
    {
        // Ten species call alike on every visit; one is silent in the last season: the geometric mean is floor^(1/10).
        string[] names = [.. "abcdefghij".Select(c => c.ToString())];
        var surveys = from w in Enumerable.Range(0, 6)
                      from t in Enumerable.Range(0, 6)
                      select Listen($"{w}-{t}", $"s{w}", new LocalDate(2015 + t, 5, 20), [.. names[..(t == 5 ? 9 : 10)].Select(name => (name, 2))]);
        var data = Data(Enumerable.Range(0, 6).Select(w => Pond($"s{w}", $"w{w}", "99")), names.Select(name => Frog(name)), surveys);
        var last = Analyse(data, new ProgrammeSettings { Group = new GroupOptions { FloorPercent = floor } }).Group.Single(p => p is { Group: SpeciesGroup.All, Season: 2020 });
        Assert.Equal(100 * Math.Pow(floor / 100, 0.1), last.Index!.Value, 1e-9);
    }

    [Fact]
    public void Group_of_which_little_is_heard_has_an_index_and_a_range_but_no_score()
    {
        var data = Drawn(3, ["99"], 9, 10, Chorus);

        AreaResult With(double most) => Analyse(data, new ProgrammeSettings { Group = new GroupOptions { MaximumBiasShare = most } });
        var (enough, little) = (With(1000), With(0));
        Assert.Equal(enough.Group, little.Group);
        Assert.All(little.Group.Where(p => p.Group == SpeciesGroup.All), p => Assert.NotNull(p.Lower));
        Assert.DoesNotContain(enough.Conditions, c => c.Lacks.HasFlag(ScoreLack.LittleHeard));
        Assert.All(little.Conditions, c => Assert.True(c.Score is null && c.Lacks.HasFlag(ScoreLack.LittleHeard)));
    }

    /// <summary>The bias of a log falls with the number of wetlands faster than its spread (1/K against 1/√K), however many seasons are silent.</summary>
    [Fact]
    public void Rare_calls_at_a_few_wetlands_give_no_score_and_at_many_do()
    {
        static ProgrammeData Rare(int wetlands)
        {
            var drawn = Drawn(5, ["99"], wetlands, 10, Chorus);
            // One survey in four keeps its calls.
            return drawn with { Surveys = [.. drawn.Surveys.Select((survey, i) => i % 4 == 0 ? survey : survey with { Calls = [] })] };
        }

        var strict = new ProgrammeSettings { Group = new GroupOptions { MaximumBiasShare = 0.3 } };
        var (few, many) = (Analyse(Rare(8), strict), Analyse(Rare(150), strict));
        Assert.True(few.Conditions[^1].Lacks.HasFlag(ScoreLack.LittleHeard));
        Assert.NotNull(many.Conditions[^1].Score);
    }

    /// <summary>Seven species call the same every season, so their geometric mean is 100 throughout; an eighth at a station of its own is listened to for two seasons and falls silent in the second.</summary>
    [Fact]
    public void A_species_listened_to_for_two_seasons_does_not_set_the_level()
    {
        string[] names = [.. "abcdefg".Select(c => c.ToString())];
        var surveys = from w in Enumerable.Range(0, 6)
                      from t in Enumerable.Range(0, 8)
                      select Listen($"{w}-{t}", $"s{w}", new LocalDate(2010 + t, 5, 20), [.. names.Select(name => (name, 2))]);
        Survey[] brief = [Listen("brief-0", "brief", new LocalDate(2010, 5, 20), ("h", 2)), Listen("brief-1", "brief", new LocalDate(2011, 5, 20))];
        var stations = Enumerable.Range(0, 6).Select(w => Pond($"s{w}", $"w{w}", "99")).Append(Pond("brief", "brief", "99"));
        var points = Analyse(Data(stations, [.. names.Append("h").Select(name => Frog(name))], [.. surveys, .. brief])).Group.Where(p => p.Group == SpeciesGroup.All).ToArray();
        // From the third season on only the seven have an index, and theirs is 100.
        Assert.Equal(8, points.Length);
        Assert.All(points[2..], point => Assert.InRange(point.Index!.Value, 95, 105));
        Assert.All(points[2..], point => Assert.Equal(points[^1].Index!.Value, point.Index!.Value, 1e-9));
    }
}
