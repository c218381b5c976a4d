using Indicators.Analysis.Areas;
using Indicators.Analysis.Cells;
using Indicators.Analysis.Fits;
using Indicators.Analysis.Options;
using Indicators.Monitoring;
using Indicators.Statistics.Intervals;
using Xunit;
using static Indicators.Analysis.Tests.Programmes;

namespace Indicators.Analysis.Tests;

public sealed class ChangeDrawsTests
{
    private const int Last = 2023;

    private readonly UnderlyingFit _strong = Fitted([2011, 2014, 2015, 2019, 2022]);

    /// <summary>The nights of some springs are silent at two stations of three, whatever the species.</summary>
    private static UnderlyingFit Fitted(int[] quiet)
    {
        var data = Drawn(9, ["99"], 30, Last - 2009, Frog("a"), Frog("b"));
        data = data with
        {
            Surveys =
            [
                .. data.Surveys.Select((survey, i) => quiet.Contains(survey.Date.Year) && i % 3 != 0 ? survey with { Calls = [] } : survey),
            ],
        };
        var cells = CellTable.Build(data, null);
        var run = new RunOptions { Seed = 4, Resamples = 2000 };
        return AreaFit.Of(cells, new AreaTree(cells)[Code("99")], new ProgrammeSettings(), run, new ThreadGauge(), new ParallelOptions { MaxDegreeOfParallelism = 1 }).Underlying;
    }

    [Fact]
    public void Beside_its_own_season_nothing_moves()
    {
        var (before, later) = _strong.ChangeDraws(0, 2020, 2020);
        Assert.Equal(later, before);
    }

    /// <summary>Springs are as strong as the species' own moments say, so that its draws spread no more than those told of the season by itself.</summary>
    [Fact]
    public void Springs_are_no_stronger_than_the_species_own()
    {
        var (_, later) = _strong.ChangeDraws(0, 2022, Last);
        double spread = DrawMoments.Of(later).Variance, joint = DrawMoments.Of(_strong.Draws(0, Last)).Variance;
        Assert.InRange(spread / joint, 0.3, 1.1);
    }

    [Theory]
    [InlineData(0, 2022)]
    [InlineData(1, 2022)]
    [InlineData(0, 2016)]
    public void Draws_keep_their_own_spread_and_no_longer_take_the_later_springs_for_granted(int species, int season)
    {
        double[] same = _strong.ChangeDraws(species, season, season).Before!;
        var (beside, later) = _strong.ChangeDraws(species, season, Last);
        Assert.True(_strong.SeasonSd(species) > 0.2, $"{_strong.SeasonSd(species)}");
        Assert.Equal(1, Math.Sqrt(DrawMoments.Of(beside!).Variance / DrawMoments.Of(same).Variance), 0.1);
        Assert.Equal(DrawMoments.Of(same).Mean, DrawMoments.Of(beside!).Mean, 0.05 * Math.Sqrt(DrawMoments.Of(same).Variance));
        Assert.True(Apart(later!, beside!) > 1.1 * Apart(later!, same), $"{Apart(later!, beside!)} and {Apart(later!, same)}");
    }

    private static double Apart(double[] one, double[] other) => Math.Sqrt(DrawMoments.Of([.. one.Zip(other, (x, y) => x - y)]).Variance);
}
