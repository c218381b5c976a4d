using Indicators.Analysis.Results;
using Indicators.Monitoring;
using Xunit;

namespace Indicators.Wording.Tests;

public sealed class OccupiedSentencesTests
{
    private static readonly OccupancyPoint Known = new(
        WatershedCode.Parse("990100010101").Value, Id<Species>.Parse("toad").Value, 2026, 12, 9, 0.75, 0.84, 0.7, 0.93, OccupancyBasis.ManySeasons);

    [Fact]
    public void Estimate_stands_with_its_range() =>
        Assert.Equal("84 % (70 % to 93 %)", OccupiedSentences.Estimate(Known).Replace('\u00A0', ' '));

    /// <summary>Heard on one survey of 288, a species comes out as present in more than 99 % of wetlands, with no range: that is no answer.</summary>
    [Theory]
    [InlineData("en", "can't tell yet")]
    [InlineData("es", "aún no se sabe")]
    public void Estimate_without_a_range_is_not_told(string language, string expected) =>
        Assert.Equal(expected, LanguageTests.In(language, () => OccupiedSentences.Estimate(Known with { Psi = 0.9986, Lower = null, Upper = null, Basis = OccupancyBasis.ManySeasonsBoundary })));

    [Fact]
    public void No_model_no_estimate() =>
        Assert.Equal("no estimate yet", OccupiedSentences.Estimate(Known with { Psi = null, Lower = null, Upper = null, Basis = OccupancyBasis.FewWetlands }));
}
