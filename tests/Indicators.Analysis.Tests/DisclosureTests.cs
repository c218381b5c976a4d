using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Statistics.Resampling;
using NodaTime;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public class DisclosureTests
{
    private const int Least = 5;

    [Fact]
    public void No_difference_of_told_areas_isolates_few_wetlands()
    {
        int told = 0, kept = 0;
        for (uint key = 0; key < 60; key++)
        {
            var (areas, cells) = Tree(key);
            var tellable = Disclosure.Tellable(areas, cells, 0, Least);
            told += tellable.Count;
            kept += areas.Nodes.Count - tellable.Count;
            foreach (var outer in tellable)
            {
                var inside = tellable.Where(c => c != outer && c.IsWithin(outer)).ToList();
                // Every set of told areas inside, taken from the outer one; sets that overlap are covered by their union.
                for (int set = 0; set < 1 << inside.Count; set++)
                {
                    var removed = inside.Where((_, i) => (set >> i & 1) != 0).SelectMany(c => areas[c].Stations).ToHashSet();
                    int left = areas[outer].Stations.Where(s => !removed.Contains(s)).Select(s => cells.Stations[s].Wetland).Distinct().Count();
                    Assert.True(left == 0 || left >= Least, $"key {key}: {outer} less a set of told areas leaves {left} wetlands");
                }
            }
        }
        Assert.True(told > 100 && kept > 100, $"The sweep must both tell and keep back; it told {told} and kept {kept}.");
    }

    [Fact]
    public void Area_that_stands_alone_is_told_from_five_wetlands_on()
    {
        foreach (int wetlands in new[] { 4, 5 })
        {
            var data = Data(
                Enumerable.Range(0, wetlands).Select(i => Pond($"s{i}", $"w{i}", "99")), [Frog("a")],
                Enumerable.Range(0, wetlands).Select(i => Listen($"v{i}", $"s{i}", new LocalDate(2020, 5, 1), ("a", 1))));
            var cells = CellTable.Build(data, null);
            Assert.Equal(wetlands >= Least, Disclosure.Tellable(new AreaTree(cells), cells, 0, Least).Contains(Code("99")));
        }
    }

    /// <summary>Heard nowhere and heard in too few wetlands get the same answer, so that it says nothing.</summary>
    [Theory]
    [InlineData(0, false)]
    [InlineData(1, false)]
    [InlineData(4, false)]
    [InlineData(5, true)]
    public void Area_is_told_where_five_wetlands_heard_it(int heard, bool told)
    {
        var data = Data(
            Enumerable.Range(0, 12).Select(i => Pond($"s{i:00}", $"w{i:00}", "99")), [Frog("a")],
            Enumerable.Range(0, 12).Select(i => i < heard
                ? Listen($"v{i}", $"s{i:00}", new LocalDate(2020, 5, 1), ("a", 1)) : Listen($"v{i}", $"s{i:00}", new LocalDate(2020, 5, 1))));
        var cells = CellTable.Build(data, null);
        Assert.Equal(told, Disclosure.Tellable(new AreaTree(cells), cells, 0, Least).Contains(Code("99")));
    }

    /// <summary>
    /// Somebody who has the public surveys looks for the sets of stations that have as many stations and surveys in every season as the results of a species rest on. Of a
    /// species that is not protected there is one such set, the right one; of a protected one any set of stations will do.
    /// </summary>
    [Fact]
    public void Counts_do_not_tell_the_stations_that_heard_a_protected_species()
    {
        var data = Drawn(5, ["99"], 12, 8, Frog("open"), Frog("secret", isProtected: true));
        // Six of the twelve stations hear either.
        string[] heard = [.. data.Stations.Select(s => s.Id.ToString()).Where((_, i) => i % 2 == 0)];
        data = data with { Surveys = [.. data.Surveys.Select(s => heard.Contains(s.Station.ToString()) ? s : s with { Calls = [] })] };
        var result = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 40 }).Analyse(Code("99"), 1, TestContext.Current.CancellationToken);

        string[] hearing = [.. data.Surveys.Where(s => s.Calls.Any(c => c.Species == SpeciesId("open"))).Select(s => s.Station.ToString()).Distinct().Order(StringComparer.Ordinal)];
        Assert.True(hearing.Length >= 5);
        Assert.Equal([string.Join(' ', hearing)], Fitting("open"));
        Assert.True(Fitting("secret").Count > 4000, "Every set of twelve stations fits what is told.");
        var trend = result.Trends.Single(t => t.Species == SpeciesId("secret"));
        Assert.Equal((null, null, null), (trend.Stations, trend.Surveys, trend.SilentStations));
        Assert.NotNull(trend.LowerUnderlying);
        Assert.All(result.Variants.Where(v => v.Species == SpeciesId("secret")), v => Assert.Equal((null, null, null), (v.Clusters, v.Stations, v.Surveys)));
        Assert.Equal((null, null, null), result.Evidence.Where(e => e.Species == SpeciesId("secret")).Select(e => (e.DispersionDf, e.ZeroCellShare, e.OneStationSeasons)).Single());
        Assert.All(result.Effects.Where(e => e.Species == SpeciesId("secret")), e => Assert.Equal((null, null), (e.Missing, e.Surveys)));
        Assert.Null(result.OccupancyRates.Single(r => r.Species == SpeciesId("secret")).WetlandsHeard);

        List<string> Fitting(string species)
        {
            var told = result.Indices.Where(p => p.Species == SpeciesId(species)).ToArray();
            Assert.Equal(8, told.Length);
            var surveys = data.Surveys.Where(s => s.Date.Month < 8).GroupBy(s => (s.Station, s.Date.Year)).ToDictionary(g => g.Key, g => g.Count());
            var fitting = new List<string>();
            for (int set = 1; set < 1 << 12; set++)
            {
                var chosen = data.Stations.Where((_, i) => (set >> i & 1) != 0).Select(s => s.Id).ToArray();
                if (told.All(p => (p.Surveys ?? Sum(chosen, p.Season)) == Sum(chosen, p.Season)
                    && (p.Stations ?? Stations(chosen, p.Season)) == Stations(chosen, p.Season)))
                    fitting.Add(string.Join(' ', chosen));
            }
            return fitting;

            int Sum(Id<Station>[] chosen, int season) => chosen.Sum(s => surveys.GetValueOrDefault((s, season)));
            int Stations(Id<Station>[] chosen, int season) => chosen.Count(s => surveys.ContainsKey((s, season)));
        }
    }

    /// <summary>An index above 0 in a season with few surveyed wetlands would say that one of them heard it.</summary>
    [Fact]
    public void Seasons_with_few_surveyed_wetlands_have_no_index_of_a_protected_species()
    {
        var data = Drawn(5, ["99"], 9, 8, Frog("open"), Frog("secret", isProtected: true));
        string[] kept = [.. data.Stations.Take(4).Select(s => s.Id.ToString())];
        data = data with { Surveys = [.. data.Surveys.Where(s => s.Date.Year != 2014 || kept.Contains(s.Station.ToString()))] };
        var result = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 40 }).Analyse(Code("99"), 1, TestContext.Current.CancellationToken);
        Assert.Contains(result.Indices, p => p.Species == SpeciesId("open") && p.Season == 2014);
        Assert.Equal(7, result.Indices.Count(p => p.Species == SpeciesId("secret")));
        Assert.DoesNotContain(result.Indices, p => p.Species == SpeciesId("secret") && p.Season == 2014);
    }

    [Fact]
    public void Protected_species_is_nowhere_in_an_area_where_it_may_not_be_told()
    {
        var data = Drawn(5, ["9901", "9902"], 4, 8, Frog("a"), Frog("b"), Frog("c"), Frog("secret", isProtected: true));
        var analysis = ProgrammeAnalysis.Prepare(data, new ProgrammeSettings(), new RunOptions { Resamples = 40 });
        var small = analysis.Analyse(Code("9901"), 1, TestContext.Current.CancellationToken);
        var large = analysis.Analyse(Code("99"), 1, TestContext.Current.CancellationToken);
        var secret = SpeciesId("secret");
        Assert.DoesNotContain(small.Trends, t => t.Species == secret);
        Assert.DoesNotContain(small.Indices, t => t.Species == secret);
        Assert.DoesNotContain(secret, small.Area.Expected);
        Assert.DoesNotContain(small.Conditions.SelectMany(c => c.Lines), l => l.Species == secret);
        Assert.Contains(large.Trends, t => t.Species == secret);
    }

    private static (AreaTree, CellTable) Tree(uint key)
    {
        var stations = new List<Station>();
        for (int i = 0; i < 40; i++)
        {
            var (a, b, c, d) = Philox.Block((uint)i, 7, 0, 0, key, 0);
            // Uneven: most stations crowd into few watersheds, and some wetlands lie in two.
            stations.Add(Pond($"s{i:00}", d % 8 == 0 ? "shared" : $"w{i:00}", $"99{a % 2:00}{Math.Min(b % 5, c % 4):00}{(d >> 8) % 3 % 2:00}"));
        }
        var data = Data(stations, [Frog("a")], stations.Select(s => Listen("v" + s.Id, s.Id.ToString(), new LocalDate(2020, 5, 1), ("a", 1))));
        var cells = CellTable.Build(data, null);
        return (new AreaTree(cells), cells);
    }
}
