using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public class SpeciesBatchesTests
{
    [Theory]
    [InlineData(15, 1500, new[] { 13, 2 })]
    [InlineData(25, 2000, new[] { 10, 10, 5 })]
    [InlineData(5, 10_000, new[] { 2, 2, 1 })]
    [InlineData(3, 1_000_000, new[] { 1, 1, 1 })]
    [InlineData(0, 10, new int[0])]
    public void Every_species_is_in_one_batch_in_order(int species, int stations, int[] sizes)
    {
        var batches = SpeciesBatches.Of(species, stations);
        Assert.Equal(sizes, batches.Select(batch => batch.Length));
        Assert.Equal(Enumerable.Range(0, species), batches.SelectMany(batch => batch));
    }

    [Fact]
    public void Panel_that_was_let_go_comes_back_the_same()
    {
        var cells = CellTable.Build(Drawn(5, ["99"], 8, 9, Frog("a"), Frog("b")), null);
        var area = new AreaTree(cells)[Code("99")];
        var series = SpeciesSeries.Gather(cells, area, 1, AreaClusters.In(cells, area), (1, 2, 3), new BaselineOptions());
        var before = series.Panel!;
        series.LetGo();
        var after = series.Panel!;
        Assert.NotSame(before, after);
        Assert.Equal((before.Units, before.Periods, series.Stations), (after.Units, after.Periods, before.Units));
        for (int s = 0; s < before.Units; s++)
            for (int t = 0; t < before.Periods; t++)
                Assert.Equal((before.Count(s, t), before.Exposure(s, t), before.ClusterOf(s)), (after.Count(s, t), after.Exposure(s, t), after.ClusterOf(s)));
    }
}
