using Indicators.Analysis.Options;
using Indicators.Analysis.Results;
using Xunit;

namespace Indicators.Wording.Tests;

/// <summary>How many words chance alone makes: the results with a range times one less the confidence, by arithmetic.</summary>
public sealed class OverviewSentencesTests
{
    private static readonly Trend Ranged = TrendSweep.Of(-6.2, -4.1, -2.3, Direction.Down);

    [Theory]
    [InlineData(3, "by luck: most likely none.", "por azar: lo más probable, ninguno.")]
    [InlineData(20, "by luck: 1 or so.", "por azar: más o menos 1.")]
    [InlineData(40, "by luck: 2 or so.", "por azar: más o menos 2.")]
    [InlineData(98, "by luck: 5 or so.", "por azar: más o menos 5.")]
    public void Words_by_luck_are_one_in_twenty_of_the_results_with_a_range(int results, string english, string spanish)
    {
        Trend[] trends = [.. Enumerable.Repeat(Ranged, results)];
        Assert.Contains(english, OverviewSentences.Chance(trends, new TrendOptions()), StringComparison.Ordinal);
        Assert.Contains(spanish, LanguageTests.In("es", () => OverviewSentences.Chance(trends, new TrendOptions())), StringComparison.Ordinal);
    }
}
