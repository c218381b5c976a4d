using System.Text.Json;
using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Indicators.Statistics.Pooling;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

/// <summary>What only all areas together tell: pooled and shrunken slopes, rolled-up indices.</summary>
public class TogetherTests
{
    private static readonly string[] Codes = ["990101", "990102", "990103", "990104", "990105", "990201"];

    private static (ProgrammeAnalysis Analysis, AreaResult[] Results) Analyse(ProgrammeData data, int resamples = 100)
    {
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = resamples });
        return (analysis, [.. analysis.Areas.Select(area => analysis.Analyse(area, 1, TestContext.Current.CancellationToken))]);
    }

    private static ProgrammeResult Together(ProgrammeData data)
    {
        var (analysis, results) = Analyse(data);
        return analysis.Together(results, 1);
    }

    /// <summary>Six watersheds of seven wetlands, one of which loses all but three.</summary>
    private static ProgrammeData Watersheds(params Species[] species)
    {
        var data = Drawn(7, Codes, 7, 12, species);
        string[] gone = ["990103-03", "990103-04", "990103-05", "990103-06"];
        return data with
        {
            Stations = [.. data.Stations.Where(s => !gone.Contains(s.Id.ToString()))],
            Surveys = [.. data.Surveys.Where(s => !gone.Contains(s.Station.ToString()))],
        };
    }

    [Fact]
    public void Areas_beside_each_other_are_pooled_and_the_level_with_most_areas_over_the_whole_programme()
    {
        var pooled = Together(Watersheds(Frog("a"), Frog("b"))).Pooled;
        var sets = pooled.Select(p => (p.Parent?.ToString(), p.Level, p.Areas)).Distinct().ToArray();
        // 990201 has no sibling, so its parent pools nothing; 9901 and 9902 lie beside each other in 99.
        Assert.Equal([(null, 6, 6), ("99", 4, 2), ("9901", 6, 5)], sets);
        Assert.Equal(sets.Length * 2 * 3, pooled.Count);
        Assert.All(pooled, p =>
        {
            Assert.InRange(p.PercentPerSeason, p.Lower, p.Upper);
            Assert.True(p.PredictionLower <= p.Lower && p.Upper <= p.PredictionUpper);
            Assert.InRange(p.ISquared, 0, 1);
        });
    }

    [Fact]
    public void Slopes_that_are_pooled_are_the_trends_and_a_steady_shock_moves_them_by_itself()
    {
        var (_, results) = Analyse(Watersheds(Frog("a"), Frog("b")));
        foreach (var result in results)
        {
            foreach (var part in result.PoolingParts)
            {
                var trend = result.Trends.Single(t => t.Species == part.Species);
                Assert.Equal(trend.PercentPerSeason!.Value, 100 * (Math.Exp(part.Slope) - 1), 1e-9);
                // A shock alike in all seasons is the stations' level; one that grows by 1 a season is a slope of 1.
                Assert.Equal(0, part.Seasons.Sum(s => s.Leverage), 1e-9);
                Assert.Equal(1, part.Seasons.Sum(s => s.Leverage * (s.Season - 2015)), 1e-9);
                Assert.Equal(trend.InformativeClusters, part.Clusters);
                Assert.Equal(part.Clusters >= 5, part.OwnVariance is not null);
            }
        }
        Assert.Contains(results.SelectMany(r => r.PoolingParts), p => p.OwnVariance is null);
    }

    [Fact]
    public void An_area_of_few_wetlands_has_no_interval_of_its_own_and_a_shrunken_one()
    {
        var together = Together(Watersheds(Frog("a"), Frog("b")));
        var small = together.Shrunken.Where(s => s.Area == Code("990103") && s.Species == SpeciesId("b")).ToArray();
        Assert.Equal([null, "9901"], small.Select(s => s.Parent?.ToString()));
        Assert.All(small, s =>
        {
            Assert.Null(s.RawLower);
            Assert.InRange(s.PercentPerSeason, s.Lower, s.Upper);
            Assert.InRange(s.OwnShare, 0, 1);
        });
        // Two areas are too few to shrink.
        Assert.DoesNotContain(together.Shrunken, s => s.Parent == Code("99"));
        var programme = together.Pooled.First(p => p.Parent is null && p.Species == SpeciesId("b") && p.Method == BetweenVarianceMethod.RestrictedMaximumLikelihood);
        Assert.All(together.Shrunken.Where(s => s.Parent is null && s.Species == SpeciesId("b")), s =>
            Assert.InRange(s.PercentPerSeason, Math.Min(s.RawPercent, programme.PercentPerSeason) - 1, Math.Max(s.RawPercent, programme.PercentPerSeason) + 1));
    }

    [Fact]
    public void Threads_and_order_change_nothing()
    {
        var (analysis, results) = Analyse(Watersheds(Frog("a"), Frog("b"), Frog("c")));
        Assert.Equal(
            JsonSerializer.Serialize(analysis.Together(results, 1)),
            JsonSerializer.Serialize(analysis.Together([.. results.Reverse()], 2)));
    }

    [Fact]
    public void Protected_species_is_pooled_over_areas_that_may_tell_it_only()
    {
        var together = Together(Watersheds(Frog("a"), Frog("b", isProtected: true)));
        var (_, results) = Analyse(Watersheds(Frog("a"), Frog("b", isProtected: true)));
        string[] telling = [.. results.Where(r => r.Trends.Any(t => t.Species == SpeciesId("b"))).Select(r => r.Area.Code.ToString())];
        Assert.DoesNotContain("990103", telling);
        Assert.All(together.Shrunken.Where(s => s.Species == SpeciesId("b")), s => Assert.Contains(s.Area.ToString(), telling));
        Assert.All(together.RollUps.Where(r => r.Species == SpeciesId("b")), r => Assert.Contains(r.Area.ToString(), telling));
        var programme = together.Pooled.First(p => p.Parent is null && p.Species == SpeciesId("b"));
        Assert.Equal(telling.Count(code => code.Length == 6), programme.Areas);
        Assert.All(results.Where(r => !telling.Contains(r.Area.Code.ToString())), r => Assert.DoesNotContain(r.PoolingParts, p => p.Species == SpeciesId("b")));
    }

    [Fact]
    public void Watersheds_that_are_copies_roll_up_to_the_direct_index()
    {
        var one = Drawn(11, ["9901"], 6, 9, Frog("a"), Frog("b"));
        string Renamed(string id) => "copy" + id;
        var both = Data(
            [.. one.Stations, .. one.Stations.Select(s => Pond(Renamed(s.Id.ToString()), Renamed(s.Wetland.ToString()), "9902"))],
            one.Species,
            [.. one.Surveys, .. one.Surveys.Select(s => s with { Id = Id<Survey>.Parse(Renamed(s.Id.ToString())).Value, Station = StationId(Renamed(s.Station.ToString())) })]);
        var rollUps = Together(both).RollUps;
        Assert.Equal(2 * 9, rollUps.Count);
        Assert.All(rollUps, r =>
        {
            Assert.Equal(r.DirectIndex, r.RolledUpIndex!.Value, 1e-6);
            Assert.Equal((2, 1.0), (r.Areas, r.StationShare));
        });
    }

    [Fact]
    public void Rolled_up_index_weighs_watersheds_by_stations_and_says_what_is_missing()
    {
        var (analysis, results) = Analyse(Watersheds(Frog("a"), Frog("b")));
        var rollUps = analysis.Together(results, 1).RollUps.Where(r => r.Area == Code("9901") && r.Species == SpeciesId("b")).ToArray();
        var inside = results.Where(r => r.Area.Code.Parent == Code("9901")).ToArray();
        Assert.Equal(12, rollUps.Length);
        foreach (var rollUp in rollUps)
        {
            double sum = 0, stations = 0;
            foreach (var area in inside)
            {
                double weight = area.Trends.Single(t => t.Species == rollUp.Species).Stations!.Value;
                sum += weight * area.Indices.Single(p => p.Species == rollUp.Species && p.Season == rollUp.Season).Index!.Value;
                stations += weight;
            }
            Assert.Equal(sum / stations, rollUp.RolledUpIndex!.Value, 1e-9);
            Assert.Equal(rollUp.RolledUpIndex - rollUp.DirectIndex, rollUp.Difference);
        }
    }

    [Fact]
    public void A_watershed_that_started_later_is_left_out_of_the_roll_up()
    {
        var data = Watersheds(Frog("a"), Frog("b"));
        data = data with { Surveys = [.. data.Surveys.Where(s => !s.Station.ToString().StartsWith("990104", StringComparison.Ordinal) || s.Date.Year >= 2014)] };
        var rollUps = Together(data).RollUps.Where(r => r.Area == Code("9901") && r.Species == SpeciesId("b")).ToArray();
        Assert.All(rollUps, r => Assert.Equal(4, r.Areas));
        Assert.All(rollUps, r => Assert.InRange(r.StationShare, 0.5, 0.9));
    }

    [Fact]
    public void Stations_in_no_smaller_watershed_are_missing_from_the_roll_up_and_said_so()
    {
        // Nine stations in two smaller watersheds, then three or eighteen more in the larger one alone.
        foreach (var (wetlands, told) in new[] { (3, true), (18, false) })
        {
            var inside = Drawn(3, ["990101", "990102"], 9, 8, Frog("a"), Frog("b"));
            inside = inside with { Stations = [.. inside.Stations.Take(9).Select((s, i) => s with { Watershed = Code(i % 2 == 0 ? "990101" : "990102") })] };
            var outside = Drawn(4, ["9901"], wetlands, 8, Frog("a"), Frog("b"));
            var kept = inside.Stations.Select(s => s.Id).ToHashSet();
            var data = Data([.. inside.Stations, .. outside.Stations], inside.Species, [.. inside.Surveys.Where(s => kept.Contains(s.Station)), .. outside.Surveys]);
            var (analysis, results) = Analyse(data);
            double Heard(string code) => results.Single(r => r.Area.Code == Code(code)).Trends.Single(t => t.Species == SpeciesId("b")).Stations!.Value;
            double share = (Heard("990101") + Heard("990102")) / Heard("9901");
            var rollUps = analysis.Together(results, 1).RollUps.Where(r => r.Area == Code("9901") && r.Species == SpeciesId("b")).ToArray();
            Assert.NotEmpty(rollUps);
            Assert.All(rollUps, r => Assert.Equal(share, r.StationShare, 1e-12));
            Assert.All(rollUps, r => Assert.Equal(told, r.RolledUpIndex is not null));
        }
    }

    [Fact]
    public void One_area_tells_nothing_together()
    {
        var together = Together(Drawn(2, ["99"], 8, 9, Frog("a")));
        Assert.Empty(together.Pooled);
        Assert.Empty(together.Shrunken);
        Assert.Empty(together.RollUps);
    }
}
