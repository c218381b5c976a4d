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
            var tellable = Disclosure.Tellable(areas, cells, Least);
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
                Enumerable.Range(0, wetlands).Select(i => Listen($"v{i}", $"s{i}", new LocalDate(2020, 5, 1))));
            var cells = CellTable.Build(data, null);
            Assert.Equal(wetlands >= Least, Disclosure.Tellable(new AreaTree(cells), cells, Least).Contains(Code("99")));
        }
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
        var data = Data(stations, [Frog("a")], stations.Select(s => Listen("v" + s.Id, s.Id.ToString(), new LocalDate(2020, 5, 1))));
        var cells = CellTable.Build(data, null);
        return (new AreaTree(cells), cells);
    }
}
